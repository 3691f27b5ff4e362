/**
 * What can go wrong between the record and a browser's database: each failure comes
 * back as a fault, nothing of the batch is left behind, and the next append works.
 * Runs on fake-indexeddb under Node and on Chromium's own IndexedDB in a page.
 */
import { createIdbStore } from '../../src/record';
import { DATABASE_VERSION } from '../../src/record/database';
import { expectEqual, expectFault, expectOk } from './expectations';
import { settle, watchTransactions, withFailingCommit } from './idb-tampering';
import { CASE_A, makeCase, makeOffer } from './entry-samples';
import type { StoreHarness, SuiteCase } from './record-store-suite';

/** What the cases need beside a store: the database under it. */
export interface IdbHarness extends StoreHarness {
  readonly indexedDB: IDBFactory;
  readonly databaseName: string;
}

export const idbFailureSuite: readonly SuiteCase<IdbHarness>[] = [
  {
    name: '[REC11] a full disk refuses the whole batch, and the next append works',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
      const batch = [makeOffer(CASE_A, 2, 16), makeOffer(CASE_A, 3, 20)];
      const failed = expectFault(
        await withFailingCommit('QuotaExceededError', () => store.append(CASE_A, batch)),
      );
      expectEqual([failed.code, failed.params['count']], ['record-append-failed', '2 entries']);
      expectEqual(failed.params['detail']?.startsWith('QuotaExceededError'), true);
      expectEqual(await harness.dump(CASE_A), makeCase(CASE_A, 2));
      expectOk(await store.append(CASE_A, batch));
    },
  },
  {
    name: '[REC11] an aborted transaction refuses the whole batch, and the next append works',
    run: async (harness) => {
      const store = await harness.open();
      const failed = expectFault(
        await withFailingCommit(null, () => store.append(CASE_A, makeCase(CASE_A, 3))),
      );
      expectEqual(failed.code, 'record-append-failed');
      expectEqual(await harness.dump(CASE_A), []);
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
    },
  },
  {
    name: '[REC8] the short list is whole where a full disk keeps no heads, and keeps them later',
    run: async (harness) => {
      const told: string[] = [];
      const store = createIdbStore({
        indexedDB: harness.indexedDB,
        name: harness.databaseName,
        tellOlder: (done, total) => void told.push(`${done} of ${total}`),
      });
      for (const [seq, entry] of makeCase(CASE_A, 2).entries())
        await harness.plant(CASE_A, seq, entry);
      const listed = async () =>
        expectOk(await store.listHeads()).map(({ entryCount }) => entryCount);
      expectEqual(await withFailingCommit('QuotaExceededError', listed), [2]);
      expectEqual(await listed(), [2]);
      // Twice made, then kept.
      expectEqual(await listed(), [2]);
      expectEqual(told, ['1 of 1', '1 of 1']);
    },
  },
  {
    name: '[REC12] a closed connection is a fault once, and the next append reopens',
    run: async (harness) => {
      const store = await harness.open();
      const connections = new Set<IDBDatabase>();
      await watchTransactions(
        (_, database) => connections.add(database),
        async () => expectOk(await store.append(CASE_A, makeCase(CASE_A, 2))),
      );
      // An own close sends no event, as a browser that drops the connection may not.
      connections.forEach((connection) => connection.close());
      const failed = expectFault(await store.append(CASE_A, [makeOffer(CASE_A, 2, 2)]));
      expectEqual(failed.code, 'record-append-failed');
      expectOk(await store.append(CASE_A, [makeOffer(CASE_A, 2, 2)]));
      expectEqual(await harness.dump(CASE_A), makeCase(CASE_A, 3));
    },
  },
  {
    name: '[REC12] a deleted database is not held up, is told apart, and can be filled again',
    run: async (harness) => {
      const store = await harness.open();
      const entries = makeCase(CASE_A, 3);
      expectOk(await store.append(CASE_A, entries.slice(0, 2)));
      await settle(harness.indexedDB.deleteDatabase(harness.databaseName));
      const failed = expectFault(await store.append(CASE_A, entries.slice(2)));
      expectEqual(failed, { code: 'record-gap', params: { seq: '2', expected: '0' } });
      expectOk(await store.append(CASE_A, entries));
      expectEqual(await harness.dump(CASE_A), entries);
    },
  },
  {
    name: '[REC13] a database of a later layout is refused and left as it is',
    run: async (harness) => {
      const store = await harness.open();
      const later = await settle(harness.indexedDB.open(harness.databaseName, 99));
      later.close();
      expectEqual(
        expectFault(await store.append(CASE_A, makeCase(CASE_A, 1))).code,
        'record-too-new',
      );
      expectEqual(expectFault(await store.read(CASE_A)).code, 'record-too-new');
      expectEqual(expectFault(await store.listCases()).code, 'record-too-new');
    },
  },
  {
    name: '[REC13] waits behind a deletion that another window holds up, then writes',
    run: async (harness) => {
      const store = await harness.open();
      const heldOpen = await settle(harness.indexedDB.open(harness.databaseName, DATABASE_VERSION));
      const deletion = harness.indexedDB.deleteDatabase(harness.databaseName);
      await new Promise((resolve) => (deletion.onblocked = resolve));
      const waiting = store.append(CASE_A, makeCase(CASE_A, 1));
      heldOpen.close();
      await settle(deletion);
      expectOk(await waiting);
      expectEqual(await harness.dump(CASE_A), makeCase(CASE_A, 1));
    },
  },
  {
    name: '[REC13] is refused while another window keeps the old layout open, and writes once that lets go',
    run: async (harness) => {
      const name = `${harness.databaseName}-held`;
      const old = harness.indexedDB.open(name, 1);
      old.onupgradeneeded = () => old.result.createObjectStore('entries');
      // A window that does not listen for `versionchange` stands in the way of the upgrade.
      const heldOpen = await settle(old);
      const store = createIdbStore({ indexedDB: harness.indexedDB, name });
      const failed = expectFault(await store.append(CASE_A, makeCase(CASE_A, 2)));
      expectEqual(failed.code, 'record-append-failed');
      expectEqual(expectFault(await store.read(CASE_A)).code, 'record-unavailable');
      heldOpen.close();
      // Openings stand in line: once this one is through, the one that was held up is.
      (await settle(harness.indexedDB.open(name))).close();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
      expectEqual(expectOk(await store.read(CASE_A)).entries, makeCase(CASE_A, 2));
    },
  },
  {
    name: '[REC14] opens its transactions with strict durability',
    run: async (harness) => {
      const store = await harness.open();
      const seen: string[] = [];
      await watchTransactions(
        ({ mode, durability }) => {
          if (mode === 'readwrite') seen.push(durability);
        },
        async () => expectOk(await store.append(CASE_A, makeCase(CASE_A, 1))),
      );
      expectEqual(seen, ['strict']);
    },
  },
  {
    name: '[REC6] an end that is gone is noticed by what the head says',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 5)));
      await harness.overwrite(CASE_A, 4, undefined);
      const read = expectOk(await store.read(CASE_A));
      expectEqual([read.entries.length, read.isReadOnly, read.seal.brokenAt], [4, true, [4]]);
      expectEqual(read.problem, {
        code: 'record-unreadable',
        params: { seq: '4', detail: 'missing' },
      });
      expectEqual(expectOk(await store.setAside(CASE_A, 4)), 0);
      expectOk(await store.append(CASE_A, [makeOffer(CASE_A, 4, 99)]));
    },
  },
  {
    name: '[REC7] a database of the first layout is taken over as it is, and sealed from there on',
    run: async (harness) => {
      const old = harness.indexedDB.open(`${harness.databaseName}-old`, 1);
      old.onupgradeneeded = () => old.result.createObjectStore('entries');
      const database = await settle(old);
      const first = makeCase(CASE_A, 3).map((entry) => ({ ...entry, version: 1 }));
      const entries = database.transaction('entries', 'readwrite').objectStore('entries');
      for (const entry of first) await settle(entries.add(entry, [CASE_A, entry.seq]));
      database.close();
      const store = createIdbStore({
        indexedDB: harness.indexedDB,
        name: `${harness.databaseName}-old`,
      });
      expectOk(await store.append(CASE_A, [makeOffer(CASE_A, 3, 24)]));
      const { seal, entries: read } = expectOk(await store.read(CASE_A));
      expectEqual(read, makeCase(CASE_A, 3).concat(makeOffer(CASE_A, 3, 24)));
      expectEqual([seal.brokenAt, seal.sealedFrom], [[], 3]);
      expectEqual(expectOk(await store.readStored(CASE_A)).slice(0, 3), first);
    },
  },
];
