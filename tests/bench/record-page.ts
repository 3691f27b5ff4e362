/** What runs inside the page of bench record: appends one by one, ours and a bare loop, in turns. */
import { createBucketPlace, createIdbStore, createLock, createSettings } from '../../src/record';
import type { RecordStore, StorageBuckets } from '../../src/record';
import { coverValues, uncoverValues } from '../../src/record/cover';
import type { StoredValue } from '../../src/record/read-case';
import { EMPTY_TAIL, loadHasher, sealEntries } from '../../src/record/seal';
import { CASE_A, makeOffer, makeOpening } from '../record/entry-samples';
import type { Entry } from '../../src/domain';
import type { SqliteReply, SqliteRequest } from './sqlite.worker';

type Durability = 'strict' | 'relaxed';

/** One way to append: takes an entry, resolves when it is saved. */
interface Lane {
  readonly name: string;
  append(entry: Entry): Promise<void>;
}

export type LaneTimes = Readonly<Record<string, readonly number[]>>;

export interface RecordBenchPage {
  /**
   * Appends `rounds` times `perRound` entries on each lane in turns; gives milliseconds for each
   * append. `sqlite` is where the script of its worker lies.
   */
  measure(rounds: number, perRound: number, sqlite: string): Promise<LaneTimes>;
  /** Microseconds that one entry costs: sealed, encrypted, decrypted, on the average of `count`. */
  measureCosts(
    count: number,
  ): Promise<Readonly<Record<'sealUs' | 'encryptUs' | 'decryptUs', number>>>;
  /** Milliseconds to derive the key of the lock from a passphrase. */
  measureUnlock(): Promise<number>;
  /** The version of SQLite. */
  sqliteVersion(): string;
  /** Milliseconds to read a case of `count` entries back. */
  measureRead(count: number): Promise<number>;
}

function openOurs(durability: Durability): Lane {
  return toLane(
    `ours ${durability}`,
    createIdbStore({ indexedDB, name: `bench-ours-${durability}`, durability }),
  );
}

function toLane(name: string, store: RecordStore): Lane {
  return {
    name,
    append: async (entry) => {
      const appended = await store.append(entry.caseId, [entry]);
      if (!appended.ok) throw new Error(JSON.stringify(appended.error));
    },
  };
}

/** The least that IndexedDB can do: one transaction, one add, wait for completion. */
function openBare(durability: Durability): Promise<Lane> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(`bench-bare-${durability}`, 1);
    request.onupgradeneeded = () => request.result.createObjectStore('entries');
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const database = request.result;
      resolve({
        name: `bare ${durability}`,
        append: (entry) =>
          new Promise((done, fail) => {
            const transaction = database.transaction('entries', 'readwrite', { durability });
            transaction.objectStore('entries').add(entry, [entry.caseId, entry.seq]);
            transaction.oncomplete = () => done();
            transaction.onabort = () => fail(transaction.error);
          }),
      });
    };
  });
}

let version = '';

/** SQLite in a worker, where alone it may use its files; what the page waits is what counts. */
async function openSqlite(script: string, synchronous: 'FULL' | 'OFF'): Promise<Lane> {
  const worker = new Worker(script);
  const ask = (request: SqliteRequest): Promise<string> =>
    new Promise((resolve, reject) => {
      worker.onmessage = ({ data }: MessageEvent<SqliteReply>) => {
        if (data.ok) resolve(data.text);
        else reject(new Error(data.why));
      };
      worker.onerror = ({ message }) => reject(new Error(message));
      worker.postMessage(request);
    });
  version = await ask({ kind: 'open', synchronous });
  return {
    name: synchronous === 'FULL' ? 'sqlite strict' : 'sqlite relaxed',
    append: async ({ caseId, seq, ...rest }) => {
      await ask({ kind: 'append', caseId, seq, text: JSON.stringify({ caseId, seq, ...rest }) });
    },
  };
}

/** Under the lock, and with the second copy beside it, as in the product. */
async function openLocked(): Promise<Lane> {
  const lock = createLock(createSettings(indexedDB, 'bench-locked'), clock);
  const set = await lock.set('only for this measurement');
  if (!set.ok) throw new Error(set.error.code);
  const store = createIdbStore({ indexedDB, name: 'bench-locked', ring: lock });
  return toLane('ours strict, locked', store);
}

function openCopied(): Lane {
  const { storageBuckets } = navigator as { readonly storageBuckets?: StorageBuckets };
  const copyPlace = createBucketPlace(storageBuckets);
  return toLane(
    'ours strict, second copy',
    createIdbStore({ indexedDB, name: 'bench-copied', copyPlace }),
  );
}

const clock = { wallMs: () => Date.now(), monoMs: () => performance.now() };

const makeEntryAt = (seq: number): Entry =>
  seq === 0 ? makeOpening(CASE_A) : makeOffer(CASE_A, seq, seq);

const page: RecordBenchPage = {
  sqliteVersion: () => version,
  measure: async (rounds, perRound, sqlite) => {
    const lanes = [
      openOurs('strict'),
      await openBare('strict'),
      await openSqlite(sqlite, 'FULL'),
      openOurs('relaxed'),
      await openBare('relaxed'),
      await openSqlite(sqlite, 'OFF'),
      openCopied(),
      await openLocked(),
    ];
    const times: Record<string, number[]> = Object.fromEntries(lanes.map(({ name }) => [name, []]));
    for (let round = 0; round < rounds; round += 1) {
      for (const { name, append } of lanes) {
        for (let i = 0; i < perRound; i += 1) {
          const entry = makeEntryAt(round * perRound + i);
          const begunMs = performance.now();
          await append(entry);
          // The first round warms every lane up.
          if (round > 0) times[name]?.push(performance.now() - begunMs);
        }
      }
    }
    return times;
  },
  measureCosts: async (count) => {
    const entries = Array.from({ length: count }, (_, seq) => makeEntryAt(seq + 1));
    const hasher = await loadHasher();
    const perEntry = (sinceMs: number): number => ((performance.now() - sinceMs) * 1000) / count;
    const sealMs = performance.now();
    const { sealed } = sealEntries(hasher, EMPTY_TAIL, entries);
    const sealUs = perEntry(sealMs);
    const key = await crypto.subtle.generateKey({ name: 'AES-GCM', length: 256 }, false, [
      'encrypt',
      'decrypt',
    ]);
    // One by one, as orders come.
    const encryptMs = performance.now();
    const covered: StoredValue[] = [];
    for (const value of sealed)
      covered.push(...(await coverValues(key, CASE_A, [{ seq: value.seq, value }])));
    const encryptUs = perEntry(encryptMs);
    // All at once, as a case is read.
    const decryptMs = performance.now();
    await uncoverValues(key, CASE_A, covered);
    return { sealUs, encryptUs, decryptUs: perEntry(decryptMs) };
  },
  measureUnlock: async () => {
    const lock = createLock(createSettings(indexedDB, 'bench-unlock'), clock);
    await lock.set('only for this measurement');
    const begunMs = performance.now();
    const opened = await lock.unlock('only for this measurement');
    if (!opened.ok) throw new Error(opened.error.code);
    return performance.now() - begunMs;
  },
  measureRead: async (count) => {
    const store = createIdbStore({ indexedDB, name: `bench-read-${count}`, durability: 'relaxed' });
    const appended = await store.append(
      CASE_A,
      Array.from({ length: count }, (_, seq) => makeEntryAt(seq)),
    );
    if (!appended.ok) throw new Error(JSON.stringify(appended.error));
    const begunMs = performance.now();
    const read = await store.read(CASE_A);
    if (!read.ok || read.value.entries.length !== count) throw new Error('not all was read');
    return performance.now() - begunMs;
  },
};

Object.assign(globalThis, { recordBenchPage: page });
