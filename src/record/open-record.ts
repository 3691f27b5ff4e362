/**
 * Chooses where the record is kept: on disk where the browser lets us, in memory
 * where it does not, and says so. The case goes on either way.
 */
import { fault } from '../domain';
import type { Fault } from '../domain';
import { createIdbStore } from './idb-store';
import { createMemoryStore } from './memory-store';
import type { RecordStore } from './record-store';

export interface OpenedRecord {
  readonly store: RecordStore;
  /** Why the record is not on disk, or can't be used; null where all is well. */
  readonly fault: Fault | null;
}

/**
 * Opens the record. `indexedDB` is undefined where the browser has none. A database that
 * exists but was made by a newer program is not replaced by memory silently: the fault says so.
 */
export async function openRecord(indexedDB: IDBFactory | undefined): Promise<OpenedRecord> {
  if (indexedDB === undefined) {
    return fallBack(fault('record-unavailable', { detail: 'no IndexedDB' }));
  }
  const store = createIdbStore({ indexedDB });
  const probe = await store.listCases();
  return probe.ok ? { store, fault: null } : fallBack(probe.error);
}

function fallBack(reason: Fault): OpenedRecord {
  return { store: createMemoryStore(), fault: reason };
}
