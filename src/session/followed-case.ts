/**
 * A case that another window writes: entries arrive over the feed, orders go to the
 * writer. To the screens it is a running case like any other.
 */
import { fault, ok } from '../domain';
import type { Entry, Fault, HeardPhrase, Result, RoomOrder, Source, Vocabulary } from '../domain';
import type { CaseLog } from './kept/case-log';
import type { CaseUpdate, OrderOutcome, RunningCase } from './running-case';
import type { CaseView } from './view/view';

/** How the writer stands with the disk, as it tells the others. */
export interface SavingStatus {
  readonly unsavedCount: number;
  readonly storageFault: Fault | null;
}

/** Hands something to the window that writes. */
export type Forward = (
  message:
    | {
        readonly kind: 'order';
        readonly order: RoomOrder;
        readonly source: Source;
        readonly asOf: number | undefined;
      }
    | { readonly kind: 'heard'; readonly heard: HeardPhrase },
) => Promise<OrderOutcome>;

export class FollowedCase implements RunningCase {
  readonly #subscribers = new Set<(update: CaseUpdate) => void>();
  #saving: SavingStatus = { unsavedCount: 0, storageFault: null };
  #view: CaseView | null = null;

  constructor(
    private readonly log: CaseLog,
    private readonly forward: Forward,
  ) {}

  get view(): CaseView {
    return (this.#view ??= this.log.view(this.#saving.unsavedCount, this.#saving.storageFault));
  }

  get vocabulary(): Vocabulary {
    return this.log.vocabulary();
  }

  get entries(): readonly Entry[] {
    return this.log.entriesFrom(0);
  }

  entriesFrom(seq: number): readonly Entry[] {
    return this.log.entriesFrom(seq);
  }

  /** What was followed is in memory from the first entry on. */
  untilWhole(): Promise<Result<void, Fault>> {
    return Promise.resolve(ok(undefined));
  }

  /** What was followed, for the window that takes the case up. */
  handOver(): CaseLog {
    return this.log;
  }

  submit(order: RoomOrder, source: Source, asOf?: number): Promise<OrderOutcome> {
    return this.forward({ kind: 'order', order, source, asOf });
  }

  hear(heard: HeardPhrase): Promise<OrderOutcome> {
    return this.forward({ kind: 'heard', heard });
  }

  subscribe(subscriber: (update: CaseUpdate) => void): () => void {
    this.#subscribers.add(subscriber);
    return () => this.#subscribers.delete(subscriber);
  }

  /** Entries from the writer, the next ones in order. */
  take(entries: readonly Entry[]): void {
    // The feed gives each entry once and in order; anything else would leave this window wrong for good.
    const next = this.log.count;
    if (entries.some(({ seq }, index) => seq !== next + index)) {
      throw new Error(`Expected entry ${next}, received ${entries[0]?.seq ?? 'nothing'}`);
    }
    const announcements = this.log.add(entries);
    this.#publish({ entries, announcements });
  }

  /** What the writer says about saving. */
  takeSaving(saving: SavingStatus): void {
    this.#saving = saving;
    this.#publish({ entries: [], announcements: [] });
  }

  #publish(change: Pick<CaseUpdate, 'entries' | 'announcements'>): void {
    this.#view = null;
    for (const subscriber of this.#subscribers) subscriber({ view: this.view, ...change });
  }
}

/** The outcome of an order that never reached the writer. */
export function unreachedOutcome(reason: Fault | null): OrderOutcome {
  return { refusal: reason ?? fault('window-unreachable', { timeoutMs: '' }) };
}
