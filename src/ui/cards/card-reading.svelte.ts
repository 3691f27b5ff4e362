/**
 * Reading for a voice card: one text after another, in rounds, so that nobody says the
 * same thing twice in one breath. A recording that is no good is asked for again; the
 * last good one can be taken back. Nothing is kept before the end.
 */
import { SvelteMap } from 'svelte/reactivity';
import type { Fault, SoundReading, TakeFlaw } from '../../domain';
import type { CardServices, JudgedTake, PhraseTake } from '../card-services';

/** How often is each text read? Twice is the least that shows how alike one says it. */
const ROUNDS = 2;
/** What one text takes, in seconds: a second to say it, the silence after it, a moment to read the next. */
const SECONDS_EACH = 2.4;

/** How long reading so many texts takes, in words. */
export function readingTimeToText(textCount: number): string {
  const minutes = Math.round((textCount * ROUNDS * SECONDS_EACH) / 60);
  return minutes <= 1 ? 'about a minute' : `about ${minutes} minutes`;
}

export class CardReading {
  /** Place in the queue of what is shown now. */
  at = $state(0);
  queue = $state.raw<readonly string[]>([]);
  isOpen = $state(false);
  /** It was handed over and is being kept. */
  isDone = $state(false);
  isHearing = $state(false);
  reading = $state.raw<SoundReading | null>(null);
  /** The latest recording: its text, and what was wrong with it. */
  last = $state.raw<{ readonly text: string; readonly flaw: TakeFlaw | null } | null>(null);
  fault = $state.raw<Fault | null>(null);
  /** Good recordings by their place in the queue. */
  readonly #good = new SvelteMap<number, PhraseTake>();
  #close: () => void = () => undefined;
  /** Counts openings and closings: a slow opening can tell that it is no longer wanted. */
  #turn = 0;

  constructor(
    private readonly services: Pick<CardServices, 'record'>,
    texts: readonly string[],
    private readonly onDone: (takes: readonly PhraseTake[]) => void,
  ) {
    this.queue = Array.from({ length: ROUNDS }, () => texts).flat();
  }

  get text(): string {
    return this.queue[this.at] ?? '';
  }

  /** What to do otherwise: about the latest recording, or where speech is too soft to be recorded at all. */
  get advice(): TakeFlaw | null {
    if (this.last?.flaw) return this.last.flaw;
    return this.reading?.quality === 'faint' ? 'too-quiet' : null;
  }

  /** Whether every text was read or left out once: then it may end. */
  get canFinish(): boolean {
    return this.at >= this.queue.length / ROUNDS && this.#good.size > 0;
  }

  async open(): Promise<void> {
    const turn = (this.#turn += 1);
    const opened = await this.services.record(() => this.text, {
      onReading: (reading) => (this.reading = reading),
      onHearing: (isHearing) => (this.isHearing = isHearing),
      onTake: (take) => {
        if (turn === this.#turn) this.#take(take);
      },
      onFault: (fault) => {
        if (turn === this.#turn) this.fault = fault;
      },
    });
    if (turn !== this.#turn) return opened.ok ? opened.value() : undefined;
    this.fault = opened.ok ? null : opened.error;
    this.isOpen = opened.ok;
    if (opened.ok) this.#close = opened.value;
  }

  /** Switches the microphone off; what was read stays. */
  rest(): void {
    this.#turn += 1;
    this.#close();
    this.#close = () => undefined;
    [this.isOpen, this.isHearing, this.reading] = [false, false, null];
  }

  /** The one before is to be said again. */
  back(): void {
    this.at = Math.max(0, this.at - 1);
    this.#good.delete(this.at);
    this.last = null;
  }

  leaveOut(): void {
    if (this.isDone) return;
    this.last = null;
    this.#goOn();
  }

  /** Hands over what was read, once. */
  finish(): void {
    if (this.isDone) return;
    this.isDone = true;
    this.rest();
    this.onDone([...this.#good.values()]);
  }

  #take({ text, pcm, flaw }: JudgedTake): void {
    this.last = { text, flaw };
    if (flaw !== null) return;
    this.#good.set(this.at, { text, pcm });
    this.#goOn();
  }

  #goOn(): void {
    this.at += 1;
    if (this.at < this.queue.length) return;
    // Everything left out is nothing to keep: it begins anew.
    if (this.#good.size > 0) this.finish();
    else this.at = 0;
  }
}
