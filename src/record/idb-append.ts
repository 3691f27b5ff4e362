/**
 * One batch in one transaction: look at the last position, add everything, or abort.
 * Nothing here waits between requests, so a batch costs one trip to the disk.
 */
import { fault } from '../domain';
import type { CaseId, Entry, Fault } from '../domain';
import { findSequenceFault } from './append-faults';
import { caseRange, entryKey, keyToSeq } from './idb-keys';

/**
 * Adds the entries. Resolves null when the transaction has completed, a fault where
 * the position was wrong; rejects with the browser's reason for anything else.
 */
export function addEntries(
  store: IDBObjectStore,
  caseId: CaseId,
  entries: readonly Entry[],
): Promise<Fault | null> {
  const { transaction } = store;
  return new Promise((resolve, reject) => {
    let refusal: Fault | null = null;
    let reason: unknown = null;
    transaction.oncomplete = () => resolve(null);
    transaction.onabort = () => {
      if (refusal !== null) resolve(refusal);
      else reject(reason ?? transaction.error ?? new DOMException('Aborted', 'AbortError'));
    };

    const lastKey = store.openKeyCursor(caseRange(caseId), 'prev');
    lastKey.onsuccess = () => {
      const next = lastKey.result === null ? 0 : keyToSeq(lastKey.result.key) + 1;
      refusal = findSequenceFault(entries[0]?.seq ?? next, next);
      if (refusal !== null) transaction.abort();
    };
    try {
      for (const entry of entries) {
        const added = store.add(entry, entryKey(caseId, entry.seq));
        added.onerror = () => {
          // The transaction aborts by itself; ConstraintError means that the key is taken.
          if (added.error?.name !== 'ConstraintError') return;
          refusal ??= fault('record-conflict', { seq: String(entry.seq) });
        };
      }
    } catch (thrown) {
      // A value that can't be stored must not leave the ones before it behind.
      reason = thrown;
      transaction.abort();
    }
  });
}
