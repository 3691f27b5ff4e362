/** Runs in a bench's page: says one thing after another to the built product's listener worker. */
import type { HeardPhrase, Vocabulary } from '../../src/domain';
import { ListenerTalker, quiet } from './listener-talker';

export interface DecisionTask {
  readonly workerUrl: string;
  readonly siteBase: string;
  readonly vocabulary: Vocabulary;
  readonly utterances: readonly (readonly number[])[];
}

/** What the worker told of one utterance, and how long that took by the page's clock. */
export interface TimedPhrase {
  readonly heard: HeardPhrase | null;
  readonly waitedMs: number;
}

/** Enough for the room's level to be known again. */
const PAUSE_MS = 1_200;

async function run(task: DecisionTask): Promise<readonly TimedPhrase[]> {
  const talker = new ListenerTalker(task.workerUrl);
  await talker.start(task.siteBase);
  await talker.ask({ type: 'vocabulary', vocabulary: task.vocabulary });
  const timed: TimedPhrase[] = [];
  for (const utterance of task.utterances) {
    await talker.push(quiet(PAUSE_MS));
    const before = talker.heard.length;
    const waitedMs = await talker.say(utterance);
    if (talker.failure !== null) throw new Error(talker.failure);
    timed.push({ heard: talker.heard[before] ?? null, waitedMs });
  }
  return timed;
}

Reflect.set(globalThis, 'runDecision', run);
