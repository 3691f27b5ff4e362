/**
 * A second copy of the record, in a storage bucket with database files of its own: a
 * browser that finds the files of a database damaged throws all of it away, and a
 * write that a full disk or a kicked plug cut short can be such damage. The copy takes
 * each batch after it is durable, and never while the record itself is being written,
 * so that whatever cuts a write short cuts at most one of the two. It is a copy only:
 * what it can't do never stops the record.
 */
import { promisifyRequest } from 'idb-keyval';
import type { CaseId } from '../domain';
import type { StoredKey } from './cover';
import { createDatabase, untilComplete } from './database';
import type { WithStores } from './database';
import type { Head } from './head';
import { addLines } from './idb-append';
import type { Line } from './idb-append';
import { caseRange, entryKey } from './idb-keys';
import { COMPLETE } from './missing-heads';
import { readStoredHead } from './idb-head';
import { readStoredValues } from './idb-read';

/** How long the record waits for its copy before it goes on without, in milliseconds. */
const PATIENCE_MS = 2_000;
const DATABASE = 'cuewall-second-copy';

/** Where the copy lies. */
export interface CopyPlace {
  /** Its databases; null where the browser has no such place. */
  open(): Promise<IDBFactory | null>;
  /** Throws the place away with everything in it, to begin anew. */
  discard(): Promise<void>;
}

/** What one append put on disk. */
export interface Batch {
  readonly before: Head;
  readonly after: Head;
  readonly isOwn: boolean;
  readonly key: StoredKey | null;
}

export interface SecondCopy {
  /** Resolves when nothing is being written to the copy, or after a while. */
  settled(): Promise<void>;
  /** Copies what was appended; resolves when that is durable or was given up. */
  add(caseId: CaseId, lines: readonly Line[], batch: Batch): Promise<void>;
  /** Begins to copy a case anew as the record has it. */
  renew(caseId: CaseId): void;
  /** Takes a case out, before the record does. */
  forget(caseId: CaseId): Promise<void>;
  /** Copies what the copy lacks or has otherwise; one case at a time. */
  catchUp(): Promise<void>;
  /** Begins the copy anew: nothing of what it had stays. */
  renewAll(): Promise<void>;
  /** Gives the record back what it lost as a whole; how many cases. */
  restore(): Promise<number>;
}

/** `record` is the record's own database. */
export function createSecondCopy(record: WithStores, place: CopyPlace): SecondCopy {
  let opening: Promise<WithStores | null> | null = null;
  let isSick = false;
  let tail: Promise<void> = Promise.resolve();

  function open(): Promise<WithStores | null> {
    opening ??= place
      .open()
      .then((indexedDB) =>
        indexedDB ? createDatabase({ indexedDB, name: DATABASE, durability: 'strict' }) : null,
      );
    return opening;
  }

  /** One piece of work after another; one that fails leaves the copy to be begun anew. */
  function inTurn(work: (copy: WithStores) => Promise<void>): Promise<void> {
    tail = tail.then(async () => {
      try {
        if (isSick) {
          // Files that were cut short once may be damaged without showing it.
          await place.discard();
          opening = null;
          isSick = false;
        }
        const copy = await open();
        if (copy !== null) await work(copy);
      } catch (reason) {
        isSick = true;
        console.warn(`second copy: ${String(reason)}`);
      }
    });
    return tail;
  }

  const renew = (copy: WithStores, caseId: CaseId) => copyCase(record, copy, caseId);

  async function catchUp(copy: WithStores): Promise<void> {
    const [there, here] = [await readHeads(copy), await readHeads(record)];
    for (const [caseId, { hash }] of here)
      if (there.get(caseId)?.hash !== hash) await renew(copy, caseId);
    await copyRest(record, copy);
  }

  return {
    settled: async () => {
      let timer: ReturnType<typeof setTimeout> | undefined;
      const patience = new Promise<void>((resolve) => (timer = setTimeout(resolve, PATIENCE_MS)));
      await Promise.race([tail, patience]);
      clearTimeout(timer);
    },
    add: (caseId, lines, batch) =>
      inTurn(async (copy) => {
        const added = await copy('readwrite', ['entries', 'heads', 'keys'], (it) =>
          addLines(it, caseId, lines, batch),
        );
        if (added.kind !== 'added') await renew(copy, caseId);
      }),
    renew: (caseId) => {
      void inTurn((copy) => renew(copy, caseId));
    },
    forget: (caseId) => inTurn((copy) => clearCase(copy, caseId)),
    catchUp: () => inTurn(catchUp),
    renewAll: () => {
      isSick = true;
      return inTurn(catchUp);
    },
    restore: async () => {
      let restored = 0;
      await inTurn(async (copy) => {
        // The copy first: what is removed meanwhile then has its tombstone in the record.
        const there = await readHeads(copy);
        const here = await readHeads(record);
        const isEmpty = here.size === 0;
        const gone = await record(
          'readonly',
          ['removed'],
          async (it) =>
          (await promisifyRequest(it.objectStore('removed').getAllKeys())).map((key) => String(Array.isArray(key) ? key[0] : key)), // prettier-ignore
        );
        // Its tombstones and its lock are lost only with everything else.
        if (isEmpty && there.size > 0) await copyRest(copy, record);
        for (const caseId of there.keys()) {
          if (here.has(caseId) || gone.includes(caseId)) continue;
          await copyCase(copy, record, caseId);
          restored += 1;
        }
      });
      return restored;
    },
  };
}

async function readHeads(from: WithStores): Promise<ReadonlyMap<CaseId, Head>> {
  return from('readonly', ['heads'], async (it) => {
    const heads = it.objectStore('heads');
    const [keys, values] = await Promise.all([
      promisifyRequest(heads.getAllKeys()),
      promisifyRequest<Head[]>(heads.getAll()),
    ]);
    return new Map(values.map((head, index) => [String(keys[index]) as CaseId, head]));
  });
}

/** Puts a case into `to` as `from` has it, in one transaction. */
async function copyCase(from: WithStores, to: WithStores, caseId: CaseId): Promise<void> {
  const { stored, head, key } = await from('readonly', ['entries', 'heads', 'keys'], async (it) => {
    const [values, found, kept] = await Promise.all([
      readStoredValues(it.objectStore('entries'), caseId),
      readStoredHead(it, caseId),
      promisifyRequest<StoredKey | undefined>(it.objectStore('keys').get(caseId)),
    ]);
    return { stored: values, head: found, key: kept };
  });
  if (head === null) return;
  await to('readwrite', ['entries', 'heads', 'keys'], (it) => {
    const completed = untilComplete(it);
    it.objectStore('entries').delete(caseRange(caseId));
    for (const { seq, value } of stored) it.objectStore('entries').put(value, entryKey(caseId, seq)); // prettier-ignore
    it.objectStore('heads').put(head, caseId);
    if (key) it.objectStore('keys').put(key, caseId);
    return completed;
  });
}

async function clearCase(from: WithStores, caseId: CaseId): Promise<void> {
  await from('readwrite', ['entries', 'heads', 'keys'], (it) => {
    const completed = untilComplete(it);
    it.objectStore('entries').delete(caseRange(caseId));
    for (const store of ['heads', 'keys']) it.objectStore(store).delete(caseId);
    return completed;
  });
}

/** Tombstones, the lock, and the keys as they are now. */
async function copyRest(from: WithStores, to: WithStores): Promise<void> {
  const stores = ['removed', 'settings', 'keys'] as const;
  const found = await from('readonly', stores, (it) =>
    Promise.all(
      stores.map(async (name) => ({
        name,
        keys: await promisifyRequest(it.objectStore(name).getAllKeys()),
        values: await promisifyRequest<unknown[]>(it.objectStore(name).getAll()),
      })),
    ),
  );
  await to('readwrite', stores, (it) => {
    const completed = untilComplete(it);
    for (const { name, keys, values } of found)
      for (const [index, key] of keys.entries())
        // The copy may hold cases from before there were heads, whatever the record says of itself.
        if (key !== COMPLETE) it.objectStore(name).put(values[index], key);
    return completed;
  });
}
