/**
 * Chooses where the record is kept: on disk where the browser lets us, in memory
 * where it does not, and says so. The case goes on either way.
 */
import { fault } from '../domain';
import type { Fault } from '../domain';
import type { KeyRing } from './cover';
import { createIdbStore } from './idb-store';
import type { IdbStore } from './idb-store';
import type { CopyPlace } from './second-copy';
import type { TellOlder } from './missing-heads';
import { createMemoryStore } from './memory-store';
import type { RecordStore } from './record-store';

export interface OpenedRecord {
  readonly store: RecordStore;
  /** The same on disk, for what the lock asks of it; null where the record is not on disk. */
  readonly onDisk: IdbStore | null;
  /** Why the record is not on disk, or can't be used; null where all is well. */
  readonly fault: Fault | null;
}

/**
 * Opens the record. `indexedDB` is undefined where the browser has none. A database that
 * exists but was made by a newer program is not replaced by memory silently: the fault says so.
 */
export async function openRecord(
  indexedDB: IDBFactory | undefined,
  ring?: KeyRing,
  copyPlace?: CopyPlace,
  tellOlder?: TellOlder,
): Promise<OpenedRecord> {
  if (indexedDB === undefined) {
    return fallBack(fault('record-unavailable', { detail: 'no IndexedDB' }));
  }
  const store = createIdbStore({
    indexedDB,
    ...(ring ? { ring } : {}),
    ...(copyPlace ? { copyPlace } : {}),
    ...(tellOlder ? { tellOlder } : {}),
  });
  const probe = await store.listHeads();
  if (probe.ok) await store.copy?.restore();
  return probe.ok ? { store, onDisk: store, fault: null } : fallBack(probe.error);
}

function fallBack(reason: Fault): OpenedRecord {
  return { store: createMemoryStore(), onDisk: null, fault: reason };
}
