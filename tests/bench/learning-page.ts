/**
 * Runs in a bench's page: speaks to the built product's listener worker as the product does,
 * piece by piece in real time, while it learns a voice card, and notes what waits for what.
 */
import type { CardLearning, HeardPhrase, Vocabulary } from '../../src/domain';

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

type Told =
  | { readonly type: 'ready' | 'hearing' | 'level' }
  | { readonly type: 'failed'; readonly detail: string }
  | { readonly type: 'done'; readonly id: number }
  | { readonly type: 'phrase'; readonly heard: HeardPhrase }
  | { readonly type: 'learning'; readonly learning: CardLearning };

const PIECE = 320;
const PIECE_MS = 20;
/** How often a sign of life is asked for, in milliseconds? */
const ASK_MS = 230;
/** How many utterances are said after all is learnt? */
const AFTER = 8;
const HISS = 0.001;

class Talker {
  readonly #worker: Worker;
  readonly #answers = new Map<number, () => void>();
  #id = 0;
  learning: CardLearning | null = null;
  phrases = 0;
  failure: string | null = null;
  #onReady: () => void = () => undefined;

  constructor(url: string) {
    this.#worker = new Worker(url, { type: 'module' });
    this.#worker.onerror = ({ message }) => (this.failure = message);
    this.#worker.onmessage = ({ data }: MessageEvent<Told>) => {
      if (data.type === 'ready') this.#onReady();
      if (data.type === 'failed') this.failure = data.detail;
      if (data.type === 'done') this.#answers.get(data.id)?.();
      if (data.type === 'phrase') this.phrases += 1;
      if (data.type === 'learning') this.learning = data.learning;
    };
  }

  ready(message: object): Promise<void> {
    this.#worker.postMessage(message);
    return new Promise((resolve) => (this.#onReady = resolve));
  }

  tell(message: object): void {
    this.#worker.postMessage(message);
  }

  /** How long the answer takes, in milliseconds. */
  ask(message: object): Promise<number> {
    const start = performance.now();
    const id = (this.#id += 1);
    this.#worker.postMessage({ ...message, id });
    return new Promise((resolve) =>
      this.#answers.set(id, () => {
        resolve(performance.now() - start);
      }),
    );
  }
}

const sleep = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

async function run(task: LearningTask): Promise<LearningResult> {
  const talker = new Talker(task.workerUrl);
  const { siteBase } = task;
  await talker.ready({
    type: 'start',
    modelBase: `${siteBase}voice/model/`,
    networkBase: `${siteBase}model/`,
    language: 'en-GB',
  });
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
      await push(talker, quiet(task.pauseMs ?? 500));
      if (task.pauseMs === null) continue;
      const before = talker.phrases;
      await push(talker, said);
      const end = performance.now();
      for (let waited = 0; talker.phrases === before && waited < 1_500; waited += PIECE_MS)
        await push(talker, quiet(PIECE_MS));
      (wasLearnt ? decidedAfterMs : decidedMs).push(performance.now() - end);
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

function quiet(ms: number): readonly number[] {
  return Array.from({ length: ms * 16 }, () => (Math.random() * 2 - 1) * HISS);
}

/** As the audio thread does: a piece every 20 ms, whatever the listener does. */
async function push(talker: Talker, sound: readonly number[]): Promise<void> {
  const start = performance.now();
  for (let from = 0; from < sound.length; from += PIECE) {
    const pcm = Float32Array.from(sound.slice(from, from + PIECE));
    talker.tell({ type: 'sound', id: 0, pcm });
    const dueMs = ((from + PIECE) / PIECE) * PIECE_MS - (performance.now() - start);
    if (dueMs > 0) await sleep(dueMs);
  }
}

Reflect.set(globalThis, 'runLearning', run);
