/** Ways to make a browser's database fail on demand, and a harness over any IndexedDB. */
import { createIdbStore } from '../../src/record';
import { DATABASE_VERSION, makeStores } from '../../src/record/database';
import type { CaseId } from '../../src/domain';
import type { IdbHarness } from './idb-failure-suite';
import { withoutHash } from './expectations';

type OpenTransaction = IDBDatabase['transaction'];

/** Resolves with the result of a request. */
export function settle<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/** Runs `act` while every transaction passes through `onTransaction`. */
export async function watchTransactions<T>(
  onTransaction: (transaction: IDBTransaction, database: IDBDatabase) => void,
  act: () => Promise<T>,
): Promise<T> {
  const original: OpenTransaction = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (...given: Parameters<OpenTransaction>) {
    const transaction = original.apply(this, given);
    onTransaction(transaction, this);
    return transaction;
  };
  try {
    return await act();
  } finally {
    IDBDatabase.prototype.transaction = original;
  }
}

/**
 * Runs `act` while every transaction that writes is aborted after its requests were made. A browser
 * that runs out of room does the same and puts QuotaExceededError on the transaction
 * (Indexed Database API 3.0, "commit a transaction").
 */
export function withFailingCommit<T>(reason: string | null, act: () => Promise<T>): Promise<T> {
  return watchTransactions((transaction) => {
    if (transaction.mode !== 'readwrite') return;
    if (reason !== null) {
      const error = new DOMException('no room', reason);
      Object.defineProperty(transaction, 'error', { get: () => error, set: () => undefined });
    }
    queueMicrotask(() => transaction.abort());
  }, act);
}

/** A harness that gives each case a database of its own. */
export function createIdbHarness(indexedDB: IDBFactory): IdbHarness {
  let count = 0;
  const currentName = (): string => `record-test-${count}`;
  const reopen = () => Promise.resolve(createIdbStore({ indexedDB, name: currentName() }));

  async function withStore<T>(act: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
    const request = indexedDB.open(currentName(), DATABASE_VERSION);
    request.onupgradeneeded = () => makeStores(request.result);
    const database = await settle(request);
    try {
      return await settle(act(database.transaction('entries', 'readwrite').objectStore('entries')));
    } finally {
      database.close();
    }
  }

  return {
    indexedDB,
    get databaseName() {
      return currentName();
    },
    open: () => {
      count += 1;
      return reopen();
    },
    reopen,
    plant: async (caseId: CaseId, seq: number, value: unknown) => {
      await withStore((store) => store.put(value, [caseId, seq]));
    },
    overwrite: async (caseId: CaseId, seq: number, value: unknown) => {
      if (value === undefined) await withStore((store) => store.delete([caseId, seq]));
      else await withStore((store) => store.put(value, [caseId, seq]));
    },
    dumpSealed: (caseId: CaseId) =>
      withStore<unknown[]>((store) => store.getAll(IDBKeyRange.bound([caseId], [caseId, []]))),
    dump: async (caseId: CaseId) =>
      (
        await withStore<unknown[]>((store) =>
          store.getAll(IDBKeyRange.bound([caseId], [caseId, []])),
        )
      ).map(withoutHash),
  };
}
