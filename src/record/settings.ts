/**
 * Small things that belong to the machine and not to a case: the granted backup
 * folder, the lock. They lie in the record's database, so that clearing one clears
 * both. A failure is a result.
 */
import { promisifyRequest } from 'idb-keyval';
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import { createDatabase, untilComplete } from './database';
import { RECORD_DATABASE } from './idb-store';

export interface Settings {
  /** What was put under the name; undefined where nothing was. */
  read(name: string): Promise<Result<unknown, Fault>>;
  /** Puts a value that can be cloned; undefined takes it out. */
  write(name: string, value: unknown): Promise<Result<void, Fault>>;
}

/** Settings on disk. */
export function createSettings(indexedDB: IDBFactory, name = RECORD_DATABASE): Settings {
  const withStores = createDatabase({ indexedDB, name, durability: 'strict' });
  const attempt = async <T>(work: () => Promise<T>): Promise<Result<T, Fault>> => {
    try {
      return ok(await work());
    } catch (reason) {
      return err(fault('record-unavailable', { detail: String(reason) }));
    }
  };
  return {
    read: (key) =>
      attempt(() =>
        withStores('readonly', ['settings'], (transaction) =>
          promisifyRequest<unknown>(transaction.objectStore('settings').get(key)),
        ),
      ),
    write: (key, value) =>
      attempt(() =>
        withStores('readwrite', ['settings'], (transaction) => {
          const completed = untilComplete(transaction);
          const store = transaction.objectStore('settings');
          if (value === undefined) store.delete(key);
          else store.put(value, key);
          return completed;
        }),
      ),
  };
}
