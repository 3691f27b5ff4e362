/**
 * The port every place that keeps the record stands behind. Entries are added,
 * never changed or removed. An adapter promises: ok means durable, a batch is
 * written whole or not at all, an entry can't be overwritten, and whatever state
 * the store is in, what came before the damage is given back. Failures are results;
 * a promise of an adapter is never rejected.
 */
import type { CaseId, CaseMode, Entry, Fault, ProcedureId, Result, Side } from '../domain';

/** A case as it was found. */
export interface ReadCase {
  /** In order from 0, up to the first one that can't be read. */
  readonly entries: readonly Entry[];
  /** `record-unreadable` or `record-too-new` where reading stopped early. */
  readonly problem: Fault | null;
  /** True where nothing may be appended, because entries exist that were not understood. */
  readonly isReadOnly: boolean;
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
  /** Every case in the store, newest first. Faults: `record-unavailable`, `record-too-new`. */
  listCases(): Promise<Result<readonly CaseSummary[], Fault>>;
}
