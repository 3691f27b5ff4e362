/**
 * What leaves a case on disk: a damaged end that is set aside, and a whole case that
 * a person removes. Each in one transaction, so that nothing is ever half gone.
 */
import { promisifyRequest } from 'idb-keyval';
import { err, fault, ok } from '../domain';
import type { CaseId, Fault, Result } from '../domain';
import { untilComplete } from './database';
import type { Head } from './head';
import { findHead } from './idb-head';
import { caseRange, entryKey } from './idb-keys';
import { readStoredValues } from './idb-read';
import type { Tombstone } from './record-store';
import type { Hasher } from './seal';

/** Moves every value from a position on to `aside`, unchanged, and puts the head of what stays; gives how many there were. */
export async function setTailAside(
  transaction: IDBTransaction,
  caseId: CaseId,
  from: number,
  head: Head,
): Promise<number> {
  const completed = untilComplete(transaction);
  const entries = transaction.objectStore('entries');
  const stored = await readStoredValues(entries, caseId);
  const rest = stored.filter(({ seq }) => seq >= from);
  // Beside what was set aside before: a second tear must not cover the first.
  const earlier = await promisifyRequest(transaction.objectStore('aside').count(caseRange(caseId)));
  for (const [index, line] of rest.entries()) {
    transaction.objectStore('aside').add(line, [caseId, earlier + index]);
    entries.delete(entryKey(caseId, line.seq));
  }
  transaction.objectStore('heads').put(head, caseId);
  await completed;
  return rest.length;
}

/** Takes everything of a case out and leaves a tombstone. */
export async function removeCase(
  transaction: IDBTransaction,
  caseId: CaseId,
  removedAt: number,
  hasher: Hasher,
): Promise<Result<Tombstone, Fault>> {
  const completed = untilComplete(transaction);
  const head = await findHead(transaction, caseId, hasher);
  if (head.count === 0) {
    await completed;
    return err(fault('case-unknown', { name: caseId }));
  }
  const { openedAt, hash, count: entryCount } = head;
  const tombstone: Tombstone = { caseId, openedAt, removedAt, entryCount, hash };
  transaction.objectStore('entries').delete(caseRange(caseId));
  transaction.objectStore('aside').delete(caseRange(caseId));
  transaction.objectStore('heads').delete(caseId);
  transaction.objectStore('keys').delete(caseId);
  transaction.objectStore('removed').put(tombstone, [caseId, removedAt]);
  await completed;
  return ok(tombstone);
}

/** Every tombstone, the latest removal first. */
export async function listTombstones(transaction: IDBTransaction): Promise<readonly Tombstone[]> {
  const all = await promisifyRequest<Tombstone[]>(transaction.objectStore('removed').getAll());
  return all.sort((a, b) => b.removedAt - a.removedAt);
}
