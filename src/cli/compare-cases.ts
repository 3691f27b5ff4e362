/** Two cases laid beside each other: what people settled in the one and not in the other. */
import type { Entry } from '../domain';

/** What people settle in a case: these entries must be the same ones, in the same order. */
const SETTLING: readonly Entry['type'][] = [
  'capture.confirmed', 'check.answered', 'count.recorded', 'tally.added', 'alternative.chosen',
  'group.finished', 'step.leftOut', 'step.finished', 'angles.planned', 'label.scanned', 'pack.moved',
]; // prettier-ignore

/** What was settled in the one case and not in the other, at the first place where they part; nothing where they don't. */
export function compareCases(meant: readonly Entry[], heard: readonly Entry[]): readonly string[] {
  const [wanted, got] = [meant, heard].map((entries) =>
    entries
      .filter(({ type }) => SETTLING.includes(type))
      .map(({ type, data }) => `${type} ${JSON.stringify(data)}`),
  );
  if (!wanted || !got) return [];
  const at = wanted.findIndex((line, index) => line !== got[index]);
  if (at !== -1) return [`meant ${wanted[at]}, heard ${got[at] ?? 'nothing'}`];
  return got.length > wanted.length ? [`not meant: ${got[wanted.length]}`] : [];
}
