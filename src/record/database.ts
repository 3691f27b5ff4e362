/**
 * One connection to the record's database, in the shape of idb-keyval's custom
 * store: a function that hands an object store to a callback. It opens when it is
 * first needed and again after it was closed, deleted or refused; it never stands
 * in the way of another window's upgrade or deletion. Entries lie under the key
 * [caseId, seq], as they were written.
 */
import { promisifyRequest } from 'idb-keyval';
import type { UseStore } from 'idb-keyval';

/** The layout of the database, not of an entry. */
const DATABASE_VERSION = 1;
const STORE_NAME = 'entries';

export interface DatabaseOptions {
  readonly indexedDB: IDBFactory;
  readonly name: string;
  /** Strict waits for the disk; relaxed, for measurements only, for the operating system. */
  readonly durability: 'strict' | 'relaxed';
}

/** A custom store for idb-keyval's functions and for our own. Its promise rejects with what the browser gave. */
export function createDatabase({ indexedDB, name, durability }: DatabaseOptions): UseStore {
  let connection: Promise<IDBDatabase> | null = null;

  function connect(): Promise<IDBDatabase> {
    const opening = openDatabase(indexedDB, name, () => {
      if (connection === opening) connection = null;
    });
    connection = opening;
    opening.catch(() => {
      // The caller gets the reason; here only the next attempt is made possible.
      if (connection === opening) connection = null;
    });
    return opening;
  }

  return async (mode, callback) => {
    const opening = connection ?? connect();
    const database = await opening;
    let transaction: IDBTransaction;
    try {
      transaction = database.transaction(STORE_NAME, mode, { durability });
    } catch (reason) {
      // A connection that gives no transaction is dead, whatever events it did not send.
      if (connection === opening) connection = null;
      database.close();
      throw reason;
    }
    return callback(transaction.objectStore(STORE_NAME));
  };
}

/** Opens or makes the database. Rejects when another window blocks the way; `onGone` says that it closed. */
function openDatabase(
  indexedDB: IDBFactory,
  name: string,
  onGone: () => void,
): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, DATABASE_VERSION);
    let isBlocked = false;
    request.onupgradeneeded = () => request.result.createObjectStore(STORE_NAME);
    request.onblocked = () => {
      isBlocked = true;
      reject(new DOMException('Another window keeps the old database open', 'AbortError'));
    };
    promisifyRequest(request).then((database) => {
      if (isBlocked) {
        // It came after all, but nobody waits for this one any more.
        database.close();
        return;
      }
      database.onclose = onGone;
      database.onversionchange = () => {
        database.close();
        onGone();
      };
      resolve(database);
    }, reject);
  });
}
