/** The text listener in a worker of its own, seen from the listener's worker. */
import type { AskText, HearsText, TextQuestion } from './text-listener';
import type { TextOpinion } from '../decision/rankings';
import type { FromTextWorker, ToTextWorker } from './text-worker-messages';

/** The part of a Worker that is used here; tests pass a double. */
export interface TextWorkerLike {
  onmessage: ((event: MessageEvent<FromTextWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  postMessage(message: ToTextWorker): void;
  terminate(): void;
}

export class TextWorkerListener implements HearsText {
  readonly #worker: TextWorkerLike;
  readonly #waiting = new Map<number, (opinion: TextOpinion) => void>();
  #lastId = 0;

  private constructor(worker: TextWorkerLike) {
    this.#worker = worker;
  }

  /**
   * Resolves when it is loaded. Failures go to `onFailed`, then and later, and nothing that is
   * asked is answered any more: whoever is told ends this thread, and a new one starts both.
   */
  static start(
    worker: TextWorkerLike,
    networkBase: string,
    onFailed: (detail: string) => void,
  ): Promise<TextWorkerListener> {
    const listener = new TextWorkerListener(worker);
    return new Promise((resolve) => {
      worker.onmessage = ({ data }) => {
        if (data.type === 'ready') resolve(listener);
        else if (data.type === 'failed') onFailed(data.detail);
        else listener.#take(data.id, data.opinion);
      };
      worker.onerror = ({ message }) => {
        onFailed(message);
      };
      worker.postMessage({ type: 'start', networkBase });
    });
  }

  hear(utterance: Float32Array): AskText {
    this.#worker.postMessage({ type: 'hear', utterance });
    return (question) => this.#ask(question);
  }

  close(): Promise<void> {
    this.#worker.terminate();
    return Promise.resolve();
  }

  #ask(question: TextQuestion): Promise<TextOpinion> {
    const id = (this.#lastId += 1);
    this.#worker.postMessage({ type: 'ask', id, question });
    return new Promise((resolve) => this.#waiting.set(id, resolve));
  }

  #take(id: number, opinion: TextOpinion): void {
    this.#waiting.get(id)?.(opinion);
    this.#waiting.delete(id);
  }
}
