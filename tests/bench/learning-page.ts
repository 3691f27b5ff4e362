/**
 * Runs in a bench's page: speaks to the built product's listener worker while it learns a
 * voice card, and notes what waits for what.
 */
import type { Vocabulary } from '../../src/domain';
import { ListenerTalker, quiet, sleep } from './listener-talker';

export interface LearningTask {
  readonly workerUrl: string;
  readonly siteBase: string;
  readonly vocabulary: Vocabulary;
  /** Another moment, told in the middle of the learning. */
  readonly next: Vocabulary;
  readonly takes: readonly { readonly text: string; readonly pcm: readonly number[] }[];
  /** Spoken one after another, over and over. */
  readonly utterances: readonly (readonly number[])[];
  /** How long the room is quiet between utterances; null says nothing at all. */
  readonly pauseMs: number | null;
}

export interface LearningResult {
  readonly learntMs: number;
  /** How many sounds were listened to for the last moment. */
  readonly sounds: number;
  readonly signOfLifeMs: readonly number[];
  readonly vocabularyMs: number;
  /** From the last piece of speech to the phrase, while it learns and after. */
  readonly decidedMs: readonly number[];
  readonly decidedAfterMs: readonly number[];
}

/** How often a sign of life is asked for, in milliseconds? */
const ASK_MS = 230;
/** How many utterances are said after all is learnt? */
const AFTER = 8;

async function run(task: LearningTask): Promise<LearningResult> {
  const talker = new ListenerTalker(task.workerUrl);
  await talker.start(task.siteBase);
  await talker.ask({ type: 'vocabulary', vocabulary: task.vocabulary });
  const takes = task.takes.map(({ text, pcm }) => ({ text, pcm: Int16Array.from(pcm) }));
  let isNextTold = false;
  const isLearnt = (): boolean => {
    const { done = 0, total = 1 } = talker.learning ?? {};
    return isNextTold && done === total;
  };
  const start = performance.now();
  talker.tell({ type: 'cards', cards: [{ label: 'surgeon A', takes }] });

  let learntMs = 0;
  let isOver = false;
  const signOfLifeMs: number[] = [];
  const watching = (async () => {
    let vocabularyMs: number | null = null;
    for (;;) {
      signOfLifeMs.push(await talker.ask({ type: 'sound', pcm: new Float32Array(0) }));
      if (talker.failure !== null) throw new Error(talker.failure);
      const { done = 0, total = 1 } = talker.learning ?? {};
      if (vocabularyMs === null && done > total / 2)
        vocabularyMs = await talker.ask({ type: 'vocabulary', vocabulary: task.next });
      isNextTold = vocabularyMs !== null;
      if (isLearnt()) break;
      await sleep(ASK_MS);
    }
    learntMs = performance.now() - start;
    return vocabularyMs ?? 0;
  })();

  const decidedMs: number[] = [];
  const decidedAfterMs: number[] = [];
  const speaking = (async () => {
    for (let turn = 0; decidedAfterMs.length < AFTER && !isOver; turn += 1) {
      const said = task.utterances[turn % task.utterances.length] ?? [];
      const wasLearnt = isLearnt();
      await talker.push(quiet(task.pauseMs ?? 500));
      if (task.pauseMs === null) continue;
      const waitedMs = await talker.say(said);
      (wasLearnt ? decidedAfterMs : decidedMs).push(waitedMs);
    }
  })();
  const vocabularyMs = await watching;
  if (task.pauseMs === null) isOver = true;
  await speaking;
  return {
    learntMs,
    sounds: talker.learning?.total ?? 0,
    signOfLifeMs,
    vocabularyMs,
    decidedMs,
    decidedAfterMs,
  };
}

Reflect.set(globalThis, 'runLearning', run);
