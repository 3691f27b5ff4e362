/**
 * Hearing in a worker, seen from the main thread: requests are numbered and
 * answered, a crash starts a new worker with the same vocabulary, and too many
 * crashes in a row end in a fault instead of a loop.
 */
import { err, fault, ok } from '../../domain';
import type { Fault, Result, Vocabulary } from '../../domain';
import type { WallSpeech } from './barge-in';
import type { CaseVoices, HearingHost, HearingHostEvents } from './hearing-host';
import { LANGUAGES } from '../languages/languages';
import type { FromWorker, ToWorker } from './worker-messages';

/** How often is a worker replaced before anything was heard again? */
const MOST_RESTARTS = 3;

/** The part of a Worker that is used here; tests pass a double. */
export interface WorkerLike {
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  postMessage(message: ToWorker, transfer?: Transferable[]): void;
  terminate(): void;
}

export class WorkerHearing implements HearingHost {
  readonly #createWorker: () => WorkerLike;
  readonly #modelBase: string;
  readonly #networkBase: string;
  readonly #waiting = new Map<number, (faults: readonly Fault[]) => void>();
  #worker: WorkerLike | null = null;
  #events: HearingHostEvents | null = null;
  #onStarted: ((result: Result<null, Fault>) => void) | null = null;
  #vocabulary: Vocabulary | null = null;
  #voices: CaseVoices = { language: LANGUAGES[0], cards: [] };
  /** The language that the worker was started with. */
  #language = '';
  #hasCards = false;
  #isSpeaking = false;
  #speech: WallSpeech | undefined;
  /** Whether somebody was being heard when last told. */
  #isHearing = false;
  #lastId = 0;
  #restarts = 0;

  /** The absolute URLs of the grammar's model folder and of the phrase network's. */
  constructor(createWorker: () => WorkerLike, modelBase: string, networkBase: string) {
    this.#createWorker = createWorker;
    this.#modelBase = modelBase;
    this.#networkBase = networkBase;
  }

  start(events: HearingHostEvents): Promise<Result<null, Fault>> {
    this.#events = events;
    if (this.#worker) return Promise.resolve(ok(null));
    this.#restarts = 0;
    return this.#launch();
  }

  setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    this.#vocabulary = vocabulary;
    return this.#ask((id) => [{ type: 'vocabulary', id, vocabulary }]);
  }

  /** Cards are learnt at once; another language ends the worker, and the next start loads its model. */
  async setVoices(voices: CaseVoices): Promise<void> {
    this.#voices = voices;
    if (this.#worker && voices.language.tag !== this.#language) return this.close();
    this.#sendCards();
  }

  gate(isSpeaking: boolean, speech?: WallSpeech): void {
    this.#isSpeaking = isSpeaking;
    this.#speech = speech;
    this.#worker?.postMessage({ type: 'gate', isSpeaking, ...(speech && { speech }) });
  }

  async push(pcm: Float32Array): Promise<void> {
    const copy = pcm.slice();
    await this.#ask((id) => [{ type: 'sound', id, pcm: copy }, [copy.buffer]]);
  }

  listenTo(port: MessagePort): void {
    this.#worker?.postMessage({ type: 'port', port }, [port]);
  }

  restart(): void {
    if (this.#worker && !this.#onStarted) this.#crash('no sign of life');
  }

  /** A start under way ends as a failure: nobody will listen. */
  async close(): Promise<void> {
    this.#discard();
    this.#settleStart(err(fault('listener-failed', { detail: 'closed while starting' })));
  }

  #launch(): Promise<Result<null, Fault>> {
    const worker = this.#createWorker();
    this.#worker = worker;
    // One failure may be told twice; what a replaced worker says is no failure of the new one.
    worker.onmessage = ({ data }) => {
      if (worker === this.#worker) this.#take(data);
    };
    worker.onerror = ({ message }) => {
      if (worker === this.#worker) this.#crash(message);
    };
    worker.postMessage({
      type: 'start',
      modelBase: this.#modelBase,
      networkBase: this.#networkBase,
      language: this.#voices.language.tag,
    });
    this.#language = this.#voices.language.tag;
    return new Promise((resolve) => (this.#onStarted = resolve));
  }

  #take(message: FromWorker): void {
    switch (message.type) {
      case 'ready':
        return this.#settleStart(ok(null));
      case 'failed':
        return this.#crash(message.detail);
      case 'done':
        this.#waiting.get(message.id)?.(message.faults);
        this.#waiting.delete(message.id);
        return;
      case 'phrase':
        this.#restarts = 0;
        return this.#events?.onPhrase(message.heard);
      case 'hearing':
        this.#isHearing = message.isHearing;
        return this.#events?.onHearing(message.isHearing);
      case 'level':
        return this.#events?.onLevel(message.levelDb, message.reading);
      case 'learning':
        return this.#events?.onLearning?.(message.learning);
    }
  }

  /** A worker that never became ready is not tried again: its files are missing. */
  #crash(detail: string): void {
    const failure = fault('listener-failed', { detail });
    const wasStarting = this.#onStarted !== null;
    const wasHearing = this.#isHearing;
    this.#isHearing = false;
    this.#discard();
    if (wasStarting) return this.#settleStart(err(failure));
    if (this.#restarts >= MOST_RESTARTS) return this.#events?.onFailed(failure);
    this.#restarts += 1;
    this.#events?.onLostListener(wasHearing);
    void this.#launch().then((result) => {
      if (result.ok) this.#events?.onRestarted();
      else this.#events?.onFailed(result.error);
    });
  }

  /** Nothing is sent to a worker that has no cards and needs none. */
  #sendCards(): void {
    const { cards } = this.#voices;
    if (!this.#worker || this.#onStarted || (cards.length === 0 && !this.#hasCards)) return;
    this.#hasCards = cards.length > 0;
    this.#worker.postMessage({ type: 'cards', cards });
  }

  #discard(): void {
    this.#hasCards = false;
    // What was learnt went with the worker; the next one tells how far it is.
    this.#events?.onLearning?.({ done: 0, total: 0 });
    this.#worker?.terminate();
    this.#worker = null;
    for (const resolve of this.#waiting.values()) resolve([]);
    this.#waiting.clear();
  }

  #settleStart(result: Result<null, Fault>): void {
    const settle = this.#onStarted;
    this.#onStarted = null;
    if (result.ok) {
      this.gate(this.#isSpeaking, this.#speech);
      this.#sendCards();
      if (this.#vocabulary) void this.setVocabulary(this.#vocabulary);
    }
    settle?.(result);
  }

  #ask(make: (id: number) => [ToWorker, Transferable[]?]): Promise<readonly Fault[]> {
    const worker = this.#worker;
    if (!worker || this.#onStarted) return Promise.resolve([]);
    const id = (this.#lastId += 1);
    return new Promise((resolve) => {
      this.#waiting.set(id, resolve);
      worker.postMessage(...make(id));
    });
  }
}
