/**
 * The list of cases without reading whole cases: for each, its first value, its last
 * ones, and a count; and the short list by heads alone. Each runs inside one read
 * transaction, so the list is of one moment.
 */
import { promisifyRequest } from 'idb-keyval';
import type { CaseId } from '../domain';
import type { Head } from './head';
import { isHead, readStoredHead } from './idb-head';
import { caseRange, keyToCaseId, keyToSeq, rangeAfter } from './idb-keys';
import { findClosing, toSummary } from './read-case';
import type { StoredValue } from './read-case';
import type { CaseHead, CaseSummary } from './record-store';

/** What the values of a case say, and its head, for cases whose values lie under the lock. */
export interface FoundSummary {
  readonly summary: CaseSummary;
  readonly head: Head | null;
  readonly isCovered: boolean;
}

/** One summary for each case in the store, in the order of case ids; with `latest`, of the newest so many. */
export async function findCaseSummaries(
  transaction: IDBTransaction,
  made: ReadonlyMap<CaseId, Head>,
  latest?: number,
): Promise<readonly FoundSummary[]> {
  const summaries: FoundSummary[] = [];
  if (latest !== undefined) {
    const heads = await findCaseHeads(transaction, made);
    const newest = [...heads].sort((a, b) => (b.openedAt ?? 0) - (a.openedAt ?? 0));
    for (const { caseId } of newest.slice(0, latest)) {
      const found = await findSummary(transaction, caseRange(caseId));
      if (found) summaries.push(found);
    }
    return summaries;
  }
  let found = await findSummary(transaction, null);
  while (found !== null) {
    summaries.push(found);
    found = await findSummary(transaction, rangeAfter(found.summary.caseId));
  }
  return summaries;
}

/** How far each case has come, by the heads that are kept and those that were `made` for cases without one. */
export async function findCaseHeads(
  transaction: IDBTransaction,
  made: ReadonlyMap<CaseId, Head>,
): Promise<readonly CaseHead[]> {
  const store = transaction.objectStore('heads');
  const [keys, values] = await Promise.all([
    promisifyRequest(store.getAllKeys()),
    promisifyRequest<unknown[]>(store.getAll()),
  ]);
  const kept = keys.map((key, index) => [String(key) as CaseId, values[index]] as const);
  // What is kept is the newer one.
  return [...new Map<CaseId, unknown>([...made, ...kept])].flatMap(([caseId, head]): CaseHead[] => {
    if (!isHead(head)) return [];
    const { openedAt, count, isClosed } = head;
    return [{ caseId, openedAt, entryCount: count, isClosed }];
  });
}

/** The summary of the first case in a range of keys; null where there is none. */
async function findSummary(
  transaction: IDBTransaction,
  range: IDBKeyRange | null,
): Promise<FoundSummary | null> {
  const store = transaction.objectStore('entries');
  const cursor = await promisifyRequest(store.openCursor(range));
  if (cursor === null) return null;
  const first: StoredValue = { seq: keyToSeq(cursor.key), value: cursor.value as unknown };
  const caseId = keyToCaseId(cursor.key);
  const entryCount = await promisifyRequest(store.count(caseRange(caseId)));
  const { last, isClosed } = await findEnd(store, caseId, first);
  const isCovered = (await promisifyRequest(transaction.objectStore('keys').count(caseId))) > 0;
  const head = await readStoredHead(transaction, caseId);
  return { summary: toSummary(caseId, first, last, { entryCount, isClosed }), head, isCovered };
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
