/**
 * One batch in one transaction: look whether the case still stands where it was
 * thought to stand, add everything, or abort. Nothing here waits between requests,
 * so a batch costs one trip to the disk.
 */
import { fault } from '../domain';
import type { CaseId, Fault } from '../domain';
import type { StoredKey } from './cover';
import type { Head } from './head';
import { caseRange, entryKey, keyToSeq } from './idb-keys';

/** One value and its position. */
export interface Line {
  readonly seq: number;
  readonly value: unknown;
}

/** `moved`: the case does not stand where it was thought to; look again. */
export type Added = { readonly kind: 'added' | 'moved' } | { readonly kind: 'refused'; readonly fault: Fault }; // prettier-ignore

/**
 * Adds the lines after `before` and puts the new head. Resolves when the transaction has
 * completed, or was called off because of what it found; rejects with the browser's reason
 * for anything else.
 */
export function addLines(
  transaction: IDBTransaction,
  caseId: CaseId,
  lines: readonly Line[],
  heads: {
    readonly before: Head;
    readonly after: Head;
    /** This window put `before` there itself: that it is still there says that nobody else has written. */
    readonly isOwn: boolean;
    /** The key of a case whose first values these are; null where nothing is to be stored. */
    readonly key: StoredKey | null;
  },
): Promise<Added> {
  const entries = transaction.objectStore('entries');
  return new Promise((resolve, reject) => {
    let calledOff: Added | null = null;
    let reason: unknown = null;
    transaction.oncomplete = () => resolve({ kind: 'added' });
    transaction.onabort = () => {
      if (calledOff !== null) resolve(calledOff);
      else reject(reason ?? transaction.error ?? new DOMException('Aborted', 'AbortError'));
    };
    const expectMoved = (isAsThought: boolean): void => {
      if (isAsThought || calledOff !== null) return;
      calledOff = { kind: 'moved' };
      transaction.abort();
    };

    const { count, hash } = heads.before;
    const found = transaction.objectStore('heads').get(caseId);
    found.onsuccess = () => {
      const head = found.result as Head | undefined;
      if (head) expectMoved(head.count === count && head.hash === hash);
      else if (heads.isOwn) expectMoved(false);
    };
    // Another window's case, a new one, or one from before there were heads: the entries themselves are asked.
    const lastKey = heads.isOwn ? null : entries.openKeyCursor(caseRange(caseId), 'prev');
    // Asked before anything is added: what lies there is what was there.
    if (lastKey)
      lastKey.onsuccess = () => {
        const key = lastKey.result?.key;
        expectMoved((key === undefined ? 0 : keyToSeq(key) + 1) === count);
      };
    try {
      for (const { seq, value } of lines) {
        const added = entries.add(value, entryKey(caseId, seq));
        added.onerror = () => {
          // The transaction aborts by itself; ConstraintError means that the key is taken.
          if (added.error?.name !== 'ConstraintError') return;
          calledOff ??= { kind: 'refused', fault: fault('record-conflict', { seq: String(seq) }) };
        };
      }
      transaction.objectStore('heads').put(heads.after, caseId);
      if (heads.key !== null) transaction.objectStore('keys').put(heads.key, caseId);
    } catch (thrown) {
      // A value that can't be stored must not leave the ones before it behind.
      reason = thrown;
      transaction.abort();
    }
  });
}
