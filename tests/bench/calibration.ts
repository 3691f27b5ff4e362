/**
 * `npm run bench -- calibration [--fit] [--keep FOLDER]`: how right the score is, on voices and
 * people that neither trained the network, nor set a limit, nor fitted the score: Brier score,
 * log loss and what came true where so much was promised, for each way of listening and each
 * kind of speech; and what a threshold on the score would decide. With `--fit` the weights of
 * src/voice/decision/calibration.ts, from the split for that (calibration-sounds.ts). What was heard
 * is kept in FOLDER, and taken from there next time. Needs flite, espeak-ng, festival with
 * festvox-kdlpc16k and sox; what is missing of the measuring data is skipped with a line.
 */
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { scoreOf } from '../../src/voice';
import { compareByScore } from './held-out/by-score';
import { fitWeights, giveBy, WAYS } from './held-out/calibration-fit';
import type { Given } from './held-out/calibration-fit';
import { gatherSamples } from './held-out/calibration-samples';
import type { Sample } from './held-out/calibration-samples';
import type { Split } from './held-out/calibration-sounds';
import { loadTalk } from './held-out/talk-clips';
import { measureReliability } from './held-out/reliability';
import type { Reliability } from './held-out/reliability';

export async function benchCalibration(options: readonly string[]): Promise<object> {
  const folder = options.includes('--keep') ? options[options.indexOf('--keep') + 1] : undefined;
  if (folder) mkdirSync(folder, { recursive: true });
  const babble = loadTalk();
  const gather = (split: Split): Promise<readonly Sample[]> =>
    gatherSamples(split, babble, folder ? path.join(folder, `${split}.jsonl`) : null, (line) =>
      console.error(line),
    );
  const samples = await gather(options.includes('--fit') ? 'fit' : 'figures');
  return {
    heard: samples.length,
    ...(options.includes('--fit')
      ? { fit: fitWeights(samples) }
      : { reliability: measureAll(samples) }),
    byScore: compareByScore(samples),
  };
}

/** For each way of listening, together and by kind of speech. */
function measureAll(samples: readonly Sample[]): Readonly<Record<string, Reliability | null>> {
  const groups = [...new Set(samples.map(({ group }) => group))];
  return Object.fromEntries(
    WAYS.flatMap((way) => {
      const given = samples.flatMap((sample) => giveBy(way, sample) ?? []);
      const row = (name: string, some: readonly Given[]): [string, Reliability | null] => [
        name,
        measureReliability(some.map(promise)),
      ];
      return [
        row(way, given),
        row(
          `${way}, taken`,
          given.filter(({ isTaken }) => isTaken),
        ),
        ...groups.map((group) =>
          row(
            `${way}, ${group}`,
            given.filter(({ sample }) => sample.group === group),
          ),
        ),
      ];
    }),
  );
}

function promise({ words, evidence, sample, isRight }: Given): {
  readonly score: number;
  readonly isRight: boolean;
} {
  return { score: scoreOf(words, evidence, sample.vocabulary), isRight };
}
