/**
 * Heads for cases that were written before there were any: found by walking the case ids,
 * made from the entries, and kept. Done once for a record, one case a transaction, so that
 * no append waits for more than one. What can't be kept is made again at the next list.
 */
import { promisifyRequest } from 'idb-keyval';
import type { CaseId } from '../domain';
import { untilComplete } from './database';
import type { WithStores } from './database';
import type { Head } from './head';
import { headOfValues } from './idb-head';
import { caseRange, keyToCaseId, rangeAfter } from './idb-keys';
import { readStoredValues } from './idb-read';
import type { Hasher } from './seal';

/** Under this name the settings say that every case has its head. */
export const COMPLETE = 'heads-complete';

/** Told after each case: how many of those without a head are done. */
export type TellOlder = (done: number, total: number) => void;

/** The heads that were missing, by case; empty once the record says that none is. */
export async function makeMissingHeads(
  withStores: WithStores,
  hasher: Hasher,
  tell: TellOlder,
): Promise<ReadonlyMap<CaseId, Head>> {
  const missing = await withStores('readonly', ['entries', 'heads', 'settings'], findMissing);
  if (missing === null) return new Map();
  const made = new Map<CaseId, Head>();
  for (const caseId of missing) {
    const values = await withStores('readonly', ['entries'], (it) =>
      readStoredValues(it.objectStore('entries'), caseId),
    );
    made.set(caseId, headOfValues(hasher, caseId, values));
    tell(made.size, missing.length);
  }
  try {
    for (const [caseId, head] of made)
      await withStores('readwrite', ['entries', 'heads'], (it) => keepHead(it, caseId, head));
    await withStores('readwrite', ['settings'], (it) => {
      it.objectStore('settings').put(true, COMPLETE);
      return untilComplete(it);
    });
  } catch {
    // A full disk must not keep the list shut: what was made serves this time.
  }
  return made;
}

/** Cases without a head; null where the record says that there are none. One step for each case. */
async function findMissing(transaction: IDBTransaction): Promise<readonly CaseId[] | null> {
  const settings = transaction.objectStore('settings');
  if ((await promisifyRequest<unknown>(settings.get(COMPLETE))) === true) return null;
  const keys = await promisifyRequest(transaction.objectStore('heads').getAllKeys());
  const known = new Set(keys.map(String));
  const entries = transaction.objectStore('entries');
  const missing: CaseId[] = [];
  let cursor = await promisifyRequest(entries.openKeyCursor());
  while (cursor !== null) {
    const caseId = keyToCaseId(cursor.key);
    if (!known.has(caseId)) missing.push(caseId);
    cursor = await promisifyRequest(entries.openKeyCursor(rangeAfter(caseId)));
  }
  return missing;
}

/** Keeps a head, unless the case has been given one or was removed since. */
async function keepHead(transaction: IDBTransaction, caseId: CaseId, head: Head): Promise<void> {
  const heads = transaction.objectStore('heads');
  const put = async (): Promise<void> => {
    const found = await promisifyRequest(heads.getKey(caseId));
    const first = await promisifyRequest(
      transaction.objectStore('entries').getKey(caseRange(caseId)),
    );
    if (found === undefined && first !== undefined) heads.put(head, caseId);
  };
  // Both at once: a transaction that is called off rejects the two of them.
  await Promise.all([untilComplete(transaction), put()]);
}
