/** What would be decided by the score alone: a phrase is taken from some score on, else asked about. */
import { scoreOf } from '../../../src/voice';
import { giveBy } from './calibration-fit';
import type { Sample } from './calibration-samples';

/** Counts of utterances: taken rightly or wrongly, or asked about; of what was named at all. */
export interface Decided {
  readonly right: number;
  readonly wrong: number;
  readonly asked: number;
}

const FROM = [0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.995] as const;

/** As it is decided now, and from each of these scores on, by kind of speech. */
export function compareByScore(
  samples: readonly Sample[],
): Readonly<Record<string, Readonly<Record<string, Decided>>>> {
  const groups = [...new Set(samples.map(({ group }) => group))];
  return Object.fromEntries(
    groups.map((group) => {
      const given = samples
        .filter((sample) => sample.group === group)
        .flatMap((sample) => giveBy('both', sample) ?? [])
        .map((one) => ({ ...one, score: scoreOf(one.words, one.evidence, one.sample.vocabulary) }));
      const count = (isTaken: (one: (typeof given)[number]) => boolean): Decided => ({
        right: given.filter((one) => isTaken(one) && one.isRight).length,
        wrong: given.filter((one) => isTaken(one) && !one.isRight).length,
        asked: given.filter((one) => !isTaken(one)).length,
      });
      const rows = FROM.map((from) => [`from ${from}`, count(({ score }) => score >= from)]);
      return [group, { now: count(({ isTaken }) => isTaken), ...Object.fromEntries(rows) }];
    }),
  );
}
