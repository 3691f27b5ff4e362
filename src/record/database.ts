/**
 * One connection to the record's database. It opens when it is first needed and
 * again after it was closed, deleted or refused; it never stands in the way of
 * another window's upgrade or deletion. What lies where: docs/record-format.md.
 */
import { promisifyRequest } from 'idb-keyval';

/** The layout of the database, not of an entry. Layout 1 had entries only. */
export const DATABASE_VERSION = 2;

/** Every object store; a new one raises the layout. */
export const STORES = ['entries', 'heads', 'aside', 'removed', 'keys', 'settings'] as const;
export type StoreName = (typeof STORES)[number];

export interface DatabaseOptions {
  readonly indexedDB: IDBFactory;
  readonly name: string;
  /** Strict waits for the disk; relaxed, for measurements only, for the operating system. */
  readonly durability: 'strict' | 'relaxed';
}

/** Runs a callback in a transaction over the stores. Its promise rejects with what the browser gave. */
export type WithStores = <T>(
  mode: IDBTransactionMode,
  stores: readonly StoreName[],
  callback: (transaction: IDBTransaction) => Promise<T>,
) => Promise<T>;

/** Makes what is missing of the layout; nothing that is there is touched. */
export function makeStores(database: IDBDatabase): void {
  for (const store of STORES) {
    if (!database.objectStoreNames.contains(store)) database.createObjectStore(store);
  }
}

/** A connection that looks after itself. */
export function createDatabase({ indexedDB, name, durability }: DatabaseOptions): WithStores {
  let connection: Promise<IDBDatabase> | null = null;
  /** True while an opening waits behind another window; a further one would wait behind it without a word. */
  let isHeldUp = false;

  function connect(): Promise<IDBDatabase> {
    if (isHeldUp) return Promise.reject(heldUp());
    const opening = openDatabase(indexedDB, name, {
      gone: () => {
        if (connection === opening) connection = null;
      },
      heldUp: (now) => {
        isHeldUp = now;
      },
    });
    connection = opening;
    opening.catch(() => {
      // The caller gets the reason; here only the next attempt is made possible.
      if (connection === opening) connection = null;
    });
    return opening;
  }

  return async (mode, stores, callback) => {
    const opening = connection ?? connect();
    const database = await opening;
    let transaction: IDBTransaction;
    try {
      transaction = database.transaction([...stores], mode, { durability });
    } catch (reason) {
      // A connection that gives no transaction is dead, whatever events it did not send.
      if (connection === opening) connection = null;
      database.close();
      throw reason;
    }
    return callback(transaction);
  };
}

/** Resolves when a transaction has completed: not before is anything durable. */
export function untilComplete(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => {
      reject(transaction.error ?? new DOMException('Aborted', 'AbortError'));
    };
  });
}

function heldUp(): DOMException {
  return new DOMException('Another window keeps the old database open', 'AbortError');
}

/** What an opening tells of itself. */
interface Opening {
  /** The connection was closed. */
  gone(): void;
  /** It waits behind another window, or does so no longer. */
  heldUp(now: boolean): void;
}

/** Opens or makes the database. Rejects when another window blocks the way. */
function openDatabase(indexedDB: IDBFactory, name: string, tell: Opening): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, DATABASE_VERSION);
    let isBlocked = false;
    request.onupgradeneeded = () => makeStores(request.result);
    request.onblocked = () => {
      isBlocked = true;
      tell.heldUp(true);
      reject(heldUp());
    };
    promisifyRequest(request)
      .finally(() => {
        if (isBlocked) tell.heldUp(false);
      })
      .then((database) => {
        if (isBlocked) {
          // It came after all, but nobody waits for this one any more.
          database.close();
          return;
        }
        database.onclose = () => tell.gone();
        database.onversionchange = () => {
          database.close();
          tell.gone();
        };
        resolve(database);
      }, reject);
  });
}
