/** Where a case stands on disk, also where it was written before there were heads. */
import { promisifyRequest } from 'idb-keyval';
import type { CaseId, Entry } from '../domain';
import { findTail } from './check-chain';
import { NO_HEAD, moveHead } from './head';
import type { Head } from './head';
import { readStoredValues } from './idb-read';
import type { StoredValue } from './read-case';
import type { Hasher } from './seal';
import { readEntry } from './upgrade';

/** The head as stored; null where there is none. */
export async function readStoredHead(
  transaction: IDBTransaction,
  caseId: CaseId,
): Promise<Head | null> {
  const found: unknown = await promisifyRequest(transaction.objectStore('heads').get(caseId));
  return isHead(found) ? found : null;
}

/** The head of a case: the stored one, else what its values give. */
export async function findHead(
  transaction: IDBTransaction,
  caseId: CaseId,
  hasher: Hasher,
): Promise<Head> {
  const stored = await readStoredHead(transaction, caseId);
  if (stored !== null) return stored;
  const values = await readStoredValues(transaction.objectStore('entries'), caseId);
  return headOfValues(hasher, caseId, values);
}

/** The head that values give. */
export function headOfValues(hasher: Hasher, caseId: CaseId, values: readonly StoredValue[]): Head {
  const entries = values.flatMap(({ seq, value }): Entry[] => {
    const read = readEntry(value, { caseId, seq });
    return read.ok ? [read.value] : [];
  });
  return moveHead(NO_HEAD, entries, findTail(hasher, values));
}

/** Whether a stored value is a head. */
export function isHead(value: unknown): value is Head {
  if (typeof value !== 'object' || value === null) return false;
  return (
    typeof Reflect.get(value, 'count') === 'number' &&
    typeof Reflect.get(value, 'hash') === 'string'
  );
}
