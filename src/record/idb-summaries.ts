/**
 * The list of cases without reading whole cases: for each, its first value, its last
 * ones, and a count. Runs inside one read transaction, so the list is of one moment.
 */
import { promisifyRequest } from 'idb-keyval';
import type { CaseId } from '../domain';
import type { Head } from './head';
import { readStoredHead } from './idb-head';
import { caseRange, keyToCaseId, keyToSeq, rangeAfter } from './idb-keys';
import { findClosing, toSummary } from './read-case';
import type { StoredValue } from './read-case';
import type { CaseSummary } from './record-store';

/** What the values of a case say, and its head, for cases whose values lie under the lock. */
export interface FoundSummary {
  readonly summary: CaseSummary;
  readonly head: Head | null;
  readonly isCovered: boolean;
}

/** One summary for each case in the store, in the order of case ids. */
export async function findCaseSummaries(
  transaction: IDBTransaction,
): Promise<readonly FoundSummary[]> {
  const store = transaction.objectStore('entries');
  const summaries: FoundSummary[] = [];
  let cursor = await promisifyRequest(store.openCursor());
  while (cursor !== null) {
    const first: StoredValue = { seq: keyToSeq(cursor.key), value: cursor.value as unknown };
    const caseId = keyToCaseId(cursor.key);
    const entryCount = await promisifyRequest(store.count(caseRange(caseId)));
    const { last, isClosed } = await findEnd(store, caseId, first);
    const isCovered = (await promisifyRequest(transaction.objectStore('keys').count(caseId))) > 0;
    const head = await readStoredHead(transaction, caseId);
    const summary = toSummary(caseId, first, last, { entryCount, isClosed });
    summaries.push({ summary, head, isCovered });
    cursor = await promisifyRequest(store.openCursor(rangeAfter(caseId)));
  }
  return summaries;
}

/** Walks back from the last value until one tells whether the case is closed. */
function findEnd(
  store: IDBObjectStore,
  caseId: CaseId,
  first: StoredValue,
): Promise<{ readonly last: StoredValue; readonly isClosed: boolean }> {
  return new Promise((resolve, reject) => {
    let last: StoredValue | null = null;
    const request = store.openCursor(caseRange(caseId), 'prev');
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const cursor = request.result;
      if (cursor === null) {
        resolve({ last: last ?? first, isClosed: false });
        return;
      }
      last ??= { seq: keyToSeq(cursor.key), value: cursor.value as unknown };
      const closing = findClosing(cursor.value);
      if (closing === 'look-further') cursor.continue();
      else resolve({ last, isClosed: closing === 'closed' });
    };
  });
}
