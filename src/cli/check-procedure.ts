/**
 * `npm run check-procedure -- FILE [--json]`: what is wrong with a procedure file, in
 * lines for people or as one JSON object (docs/procedure-format.md describes it). Exit
 * code 0 where nothing fatal was found, 1 where something was, 2 where the file can't be read.
 */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { inspectProcedure } from '../procedure';
import type { Finding, Inspection, Pronounce } from '../procedure';
import { DEFAULT_ADDRESS_PHRASE, pronunciationOf } from '../voice';
import { MODEL_FILES } from './sound-files';

/** What `--json` prints. */
interface Report {
  readonly file: string;
  readonly canRun: boolean;
  readonly findings: readonly Finding[];
  /** How far the walk went, and whether it saw everything. */
  readonly walk: { readonly states: number; readonly isComplete: boolean };
}

/** How long may the walk take? */
const MOST_MS = 120_000;

export async function run(args: readonly string[]): Promise<number> {
  const file = args.find((arg) => !arg.startsWith('--'));
  if (file === undefined) {
    console.error('Give a procedure file.');
    return 2;
  }
  const read = await readJson(file);
  if (!read.ok) {
    console.error(read.problem);
    return 2;
  }
  const end = performance.now() + MOST_MS;
  const inspection = inspectProcedure(read.data, {
    pronounce: await loadPronunciations(),
    addressPhrase: DEFAULT_ADDRESS_PHRASE,
    isTimeUp: () => performance.now() > end,
  });
  const report = toReport(file, inspection);
  console.log(args.includes('--json') ? JSON.stringify(report) : toLines(report).join('\n'));
  return report.canRun ? 0 : 1;
}

function toReport(file: string, { canRun, findings, states, isComplete }: Inspection): Report {
  return { file, canRun, findings, walk: { states, isComplete } };
}

function toLines({ file, canRun, findings, walk }: Report): readonly string[] {
  const faults = findings.filter(({ isFatal }) => isFatal).length;
  return [
    ...findings.map(
      ({ isFatal, kind, path: at, expected, received, advice }) =>
        `${isFatal ? 'fault ' : 'remark'} ${kind} at ${at}: expected ${expected}, found ${received}. ${advice}`,
    ),
    `${file}: ${canRun ? 'can run' : 'can’t run'}; ${faults} faults, ${findings.length - faults} remarks; ` +
      `${walk.states} states walked${walk.isComplete ? '' : ', then cut short'}`,
  ];
}

async function readJson(
  file: string,
): Promise<
  { readonly ok: true; readonly data: unknown } | { readonly ok: false; readonly problem: string }
> {
  try {
    return { ok: true, data: JSON.parse(await readFile(path.resolve(file), 'utf8')) as unknown };
  } catch (cause) {
    return {
      ok: false,
      problem: `${file}: ${cause instanceof Error ? cause.message : String(cause)}`,
    };
  }
}

/** The listener's own dictionary: one word and its phonemes a line. */
export async function loadPronunciations(): Promise<Pronounce> {
  const text = await readFile(path.join(MODEL_FILES.modelBase, 'en-us/dict.txt'), 'utf8');
  const sounds = new Map<string, readonly string[]>();
  for (const line of text.split('\n')) {
    const [word, ...phones] = line.trim().split(/\s+/);
    if (word && !sounds.has(word)) sounds.set(word, phones);
  }
  return (word) => sounds.get(word) ?? pronunciationOf(word);
}
