/**
 * Runs in a bench's page: speaks to the built product's listener worker as the product does,
 * piece by piece in real time, and keeps what it answers.
 */
import type { CardLearning, HeardPhrase } from '../../src/domain';

type Told =
  | { readonly type: 'ready' | 'hearing' | 'level' }
  | { readonly type: 'failed'; readonly detail: string }
  | { readonly type: 'done'; readonly id: number }
  | { readonly type: 'phrase'; readonly heard: HeardPhrase }
  | { readonly type: 'learning'; readonly learning: CardLearning };

const PIECE = 320;
/** How much sound is sent at a time, in milliseconds? */
export const PIECE_MS = 20;
const HISS = 0.001;

export class ListenerTalker {
  readonly #worker: Worker;
  readonly #answers = new Map<number, () => void>();
  readonly #heard: HeardPhrase[] = [];
  #id = 0;
  learning: CardLearning | null = null;
  failure: string | null = null;
  #onReady: () => void = () => undefined;

  constructor(url: string) {
    this.#worker = new Worker(url, { type: 'module' });
    this.#worker.onerror = ({ message }) => (this.failure = message);
    this.#worker.onmessage = ({ data }: MessageEvent<Told>) => {
      if (data.type === 'ready') this.#onReady();
      if (data.type === 'failed') this.failure = data.detail;
      if (data.type === 'done') this.#answers.get(data.id)?.();
      if (data.type === 'phrase') this.#heard.push(data.heard);
      if (data.type === 'learning') this.learning = data.learning;
    };
  }

  /** All that was heard, also what was not made out. */
  get heard(): readonly HeardPhrase[] {
    return this.#heard;
  }

  /** Loads the listeners from the built product below this address. */
  start(siteBase: string): Promise<void> {
    this.tell({
      type: 'start',
      modelBase: `${siteBase}voice/model/`,
      networkBase: `${siteBase}model/`,
      language: 'en-GB',
    });
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

  /** As the audio thread does: a piece every 20 ms, whatever the listener does. */
  async push(sound: readonly number[]): Promise<void> {
    const start = performance.now();
    for (let from = 0; from < sound.length; from += PIECE) {
      const pcm = Float32Array.from(sound.slice(from, from + PIECE));
      this.tell({ type: 'sound', id: 0, pcm });
      const dueMs = ((from + PIECE) / PIECE) * PIECE_MS - (performance.now() - start);
      if (dueMs > 0) await sleep(dueMs);
    }
  }

  /** Says something and waits in quiet until it is dealt with; by the clock, from the last piece of speech to the phrase, in milliseconds. */
  async say(said: readonly number[], mostMs = 1_500): Promise<number> {
    const before = this.#heard.length;
    await this.push(said);
    const end = performance.now();
    for (let waited = 0; this.#heard.length === before && waited < mostMs; waited += PIECE_MS)
      await this.push(quiet(PIECE_MS));
    return performance.now() - end;
  }
}

export function quiet(ms: number): readonly number[] {
  return Array.from({ length: ms * 16 }, () => (Math.random() * 2 - 1) * HISS);
}

export function sleep(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
