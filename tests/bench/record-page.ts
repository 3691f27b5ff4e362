/** What runs inside the page of bench record: appends one by one, ours and a bare loop, in turns. */
import { createIdbStore } from '../../src/record';
import { CASE_A, makeOffer, makeOpening } from '../record/entry-samples';
import type { Entry } from '../../src/domain';

type Durability = 'strict' | 'relaxed';

/** One way to append: takes an entry, resolves when it is saved. */
interface Lane {
  readonly name: string;
  append(entry: Entry): Promise<void>;
}

export type LaneTimes = Readonly<Record<string, readonly number[]>>;

export interface RecordBenchPage {
  /** Appends `rounds` times `perRound` entries on each lane in turns; gives milliseconds for each append. */
  measure(rounds: number, perRound: number): Promise<LaneTimes>;
  /** Milliseconds to read a case of `count` entries back. */
  measureRead(count: number): Promise<number>;
}

function openOurs(durability: Durability): Lane {
  const store = createIdbStore({ indexedDB, name: `bench-ours-${durability}`, durability });
  return {
    name: `ours ${durability}`,
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

const makeEntryAt = (seq: number): Entry =>
  seq === 0 ? makeOpening(CASE_A) : makeOffer(CASE_A, seq, seq);

const page: RecordBenchPage = {
  measure: async (rounds, perRound) => {
    const lanes = [
      openOurs('strict'),
      await openBare('strict'),
      openOurs('relaxed'),
      await openBare('relaxed'),
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
