/** A case as the screens and the ear use it, whichever window writes it. */
import type {
  Announcement,
  Entry,
  Fault,
  HeardPhrase,
  Result,
  RoomOrder,
  Source,
  Vocabulary,
} from '../domain';
import type { CaseView } from './view/view';

/** What came of an order. */
export interface OrderOutcome {
  /** Null where it was carried out. The refusal itself is in the record. */
  readonly refusal: Fault | null;
}

/** Sent to subscribers whenever something changed. */
export interface CaseUpdate {
  readonly view: CaseView;
  /** Entries added since the last update; empty where only saving changed. */
  readonly entries: readonly Entry[];
  readonly announcements: readonly Announcement[];
}

export interface RunningCase {
  readonly view: CaseView;
  readonly vocabulary: Vocabulary;
  /** Every entry that is in memory, which is all of them once `untilWhole` has resolved; dear for a long case. */
  readonly entries: readonly Entry[];
  /** The same from a position on; cheap for the latest few hundred. */
  entriesFrom(seq: number): readonly Entry[];
  /** Resolves when every entry is in memory; the fault says why that can't be. */
  untilWhole(): Promise<Result<void, Fault>>;
  /**
   * `asOf` is the `entryCount` of the view on which the order was given: where what the
   * order is about has changed since, it is refused rather than applied to something else.
   * `orderId` is kept in its entries, so that the same order is known again after a takeover.
   */
  submit(order: RoomOrder, source: Source, asOf?: number, orderId?: string): Promise<OrderOutcome>;
  /** Speech that a listener has made something, or nothing, of. */
  hear(heard: HeardPhrase, orderId?: string): Promise<OrderOutcome>;
  /** Returns the function that ends the subscription. */
  subscribe(subscriber: (update: CaseUpdate) => void): () => void;
}
