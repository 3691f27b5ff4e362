/**
 * The port every place that keeps the record stands behind. Entries are added,
 * never changed; a case leaves only as a whole, by a person's word, and leaves a
 * tombstone. An adapter promises: ok means durable, a batch is written whole or not
 * at all, an entry can't be overwritten, and whatever state the store is in, what
 * came before the damage is given back. Failures are results; a promise of an
 * adapter is never rejected.
 */
import type {
  CaseId, CaseMode, Entry, Fault, ProcedureId, Result, SealReport, Side,
} from '../domain'; // prettier-ignore
import type { SealedEntry, Tail } from './seal';

/** A case as it was found. */
export interface ReadCase {
  /** In order from 0, up to the first one that can't be read. */
  readonly entries: readonly Entry[];
  /** `record-unreadable` or `record-too-new` where reading stopped early. */
  readonly problem: Fault | null;
  /** True where nothing may be appended, because values exist that were not understood. */
  readonly isReadOnly: boolean;
  /** Whether the entries are as they were written. */
  readonly seal: SealReport;
}

/** How many entries are known already, and the hash of the last of them; null where the record is believed. */
export interface PartStart {
  readonly count: number;
  readonly hash: string | null;
}

/** Some entries of a case, of which every one was found as it was written. */
export interface CasePart {
  /** The first entry of the case. */
  readonly opening: Entry;
  readonly entries: readonly Entry[];
  /** How far the case comes with them. */
  readonly tail: Tail;
  /** Whether these are the last ones. */
  readonly isEnd: boolean;
}

/** One line of the list of cases. What the opening entry says is null where it can't be read. */
export interface CaseSummary {
  readonly caseId: CaseId;
  /** Wall time of the first entry, in milliseconds since 1970-01-01 UTC. */
  readonly openedAt: number | null;
  readonly mode: CaseMode | null;
  readonly side: Side | null;
  readonly procedureId: ProcedureId | null;
  readonly procedureTitle: string | null;
  /** Wall time of the last entry, in milliseconds; null where it can't be read. */
  readonly lastAt: number | null;
  readonly entryCount: number;
  readonly isClosed: boolean;
}

/** How far a case has come. */
export type CaseHead = Pick<CaseSummary, 'caseId' | 'openedAt' | 'entryCount' | 'isClosed'>;

/** What stays of a case that a person removed. */
export interface Tombstone {
  readonly caseId: CaseId;
  /** Wall times in milliseconds since 1970-01-01 UTC. */
  readonly openedAt: number | null;
  readonly removedAt: number;
  readonly entryCount: number;
  /** The last hash, by which a file of the case can still be known. */
  readonly hash: string | null;
}

export interface RecordStore {
  /**
   * Adds the next entries of a case. Resolves ok only when all of them are durable; else none is.
   * Faults: `record-conflict` (taken already), `record-gap` (not next; `expected` says what is),
   * `record-append-failed` (quota, abort, closed or blocked database; the next append tries afresh),
   * `record-too-new` (the whole store belongs to a newer program).
   */
  append(caseId: CaseId, entries: readonly Entry[]): Promise<Result<void, Fault>>;
  /** All entries of a case. Faults: `case-unknown`, `record-unavailable`, `record-too-new`. */
  read(caseId: CaseId): Promise<Result<ReadCase, Fault>>;
  /**
   * Entries after `start`, at most so many. Null unless the entry before them has that hash and
   * everything that was looked at is whole: then read the case. Faults as for `read`.
   */
  readAfter(
    caseId: CaseId,
    start: PartStart,
    most?: number,
  ): Promise<Result<CasePart | null, Fault>>;
  /** Every value of a case as it lies in the store, hashes included, for a file. Faults as for `read`. */
  readStored(caseId: CaseId): Promise<Result<readonly unknown[], Fault>>;
  /**
   * Every case in the store, newest first; with `latest`, no more than so many, found by their
   * heads, so that a long record costs no more than a short one. Faults: `record-unavailable`,
   * `record-too-new`.
   */
  listCases(latest?: number): Promise<Result<readonly CaseSummary[], Fault>>;
  /**
   * Which cases there are and whether they are closed, in no order, without reading an entry of
   * those that have a head. Faults as for `listCases`.
   */
  listHeads(): Promise<Result<readonly CaseHead[], Fault>>;
  /**
   * Puts everything from a position on beside the case, unchanged, so that the case can go on;
   * gives how many values that were. Faults: `record-append-failed`.
   */
  setAside(caseId: CaseId, from: number): Promise<Result<number, Fault>>;
  /** Adds a whole case from a file, as it is. Faults: `import-exists`, `record-append-failed`. */
  importCase(caseId: CaseId, values: readonly SealedEntry[]): Promise<Result<void, Fault>>;
  /** Takes a whole case out for good and leaves a tombstone. Faults: `case-unknown`, `record-append-failed`. */
  remove(caseId: CaseId, removedAt: number): Promise<Result<Tombstone, Fault>>;
  /** What stays of removed cases, the latest first. Faults: `record-unavailable`. */
  listRemoved(): Promise<Result<readonly Tombstone[], Fault>>;
}
