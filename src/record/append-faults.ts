/**
 * Why an append is refused or failed, in the words of the error catalogue. Shared by
 * all adapters. What could not be read back is refused here, before it is written.
 */
import { ENTRY_VERSION, fault } from '../domain';
import type { CaseId, Entry, Fault } from '../domain';
import { findEnvelopeFlaw } from './envelope';

/** What is wrong with a batch in itself, wherever its case stands; null where nothing is. */
export function findBatchFault(caseId: CaseId, entries: readonly Entry[]): Fault | null {
  const start = entries[0]?.seq ?? 0;
  for (const [index, entry] of entries.entries()) {
    const flaw = findEnvelopeFlaw(entry) ?? findHeadFlaw(caseId, entry);
    if (flaw !== null) return appendFailed(entries, flaw);
    const sequenceFault = findSequenceFault(entry.seq, start + index);
    if (sequenceFault !== null) return sequenceFault;
  }
  return null;
}

function findHeadFlaw(caseId: CaseId, entry: Entry): string | null {
  if (entry.caseId !== caseId) return `caseId: expected "${caseId}", received "${entry.caseId}"`;
  if (entry.version === ENTRY_VERSION) return null;
  return `version: expected ${ENTRY_VERSION}, received ${entry.version}`;
}

/** Whether position `seq` may be written where `next` is the next free one. */
export function findSequenceFault(seq: number, next: number): Fault | null {
  if (seq < next) return fault('record-conflict', { seq: String(seq) });
  if (seq > next) return fault('record-gap', { seq: String(seq), expected: String(next) });
  return null;
}

/** The storage failed, or would not take it; nothing of the batch was written. */
export function appendFailed(entries: readonly Entry[], detail: string): Fault {
  const count = entries.length === 1 ? '1 entry' : `${entries.length} entries`;
  return fault('record-append-failed', { count, seq: String(entries[0]?.seq ?? 0), detail });
}
