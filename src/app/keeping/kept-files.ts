/** Things kept by id in a database of their own, so that clearing or losing one harms nothing else. */
import { createStore, del, entries, get, set } from 'idb-keyval';
import type { UseStore } from 'idb-keyval';

/** Where such things lie. Every call rejects where the browser gives no room. */
export interface KeptFiles {
  entries(): Promise<readonly (readonly [string, unknown])[]>;
  get(id: string): Promise<unknown>;
  set(id: string, kept: unknown): Promise<void>;
  del(id: string): Promise<void>;
}

/** The database on disk; opened at the first use, so that a browser without one only fails there. */
export function createKeptFiles(database: string): KeptFiles {
  let opened: UseStore | null = null;
  const store = () => (opened ??= createStore(database, 'files'));
  return {
    entries: async () => entries<string, unknown>(store()),
    get: async (id) => get<unknown>(id, store()),
    set: async (id, kept) => set(id, kept, store()),
    del: async (id) => del(id, store()),
  };
}
