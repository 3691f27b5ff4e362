/**
 * Everything stored for one case, in one read transaction. Keys cost as much to fetch
 * as values, so they are only fetched where a gap makes them necessary.
 */
import { promisifyRequest } from 'idb-keyval';
import type { CaseId } from '../domain';
import { caseRange, keyToSeq } from './idb-keys';
import type { StoredValue } from './read-case';

/** All values of a case with their positions, in order; empty where there is no such case. */
export async function readStoredValues(
  store: IDBObjectStore,
  caseId: CaseId,
): Promise<readonly StoredValue[]> {
  const range = caseRange(caseId);
  const [values, lastKey] = await Promise.all([
    promisifyRequest<unknown[]>(store.getAll(range)),
    promisifyRequest(store.openKeyCursor(range, 'prev')),
  ]);
  if (lastKey === null) return [];
  // So many different positions, none of them beyond the last: then none is missing.
  if (keyToSeq(lastKey.key) === values.length - 1) {
    return values.map((value, seq) => ({ seq, value }));
  }
  const keys = await promisifyRequest(store.getAllKeys(range));
  return keys.map((key, index) => ({ seq: keyToSeq(key), value: values[index] }));
}
