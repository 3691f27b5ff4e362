/**
 * Prints what the recordings are made from: every segment that the wall can say, and
 * every line of the rehearsals. Input of make-clips.ts.
 */
import { listBuiltIn, loadBuiltIn } from '../procedure';
import { listRehearsalLines, listSegments } from '../session';

/** `segments` or `lines` as a JSON array on standard output. */
export function run([kind = '']: readonly string[]): Promise<number> {
  const lists: Readonly<Record<string, () => unknown>> = {
    segments: () => [...new Set(listBuiltIn().flatMap(({ id }) => segmentsOf(id)))].sort(),
    lines: () => listRehearsalLines().map(({ who, words, isTalk }) => ({ who, words, isTalk })),
  };
  const list = lists[kind];
  if (!list) {
    console.error('Give "segments" or "lines".');
    return Promise.resolve(2);
  }
  console.log(JSON.stringify(list(), null, 1));
  return Promise.resolve(0);
}

function segmentsOf(id: string): readonly string[] {
  const compiled = loadBuiltIn(id);
  return compiled.ok ? listSegments(compiled.value) : [];
}
