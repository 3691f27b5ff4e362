/**
 * What can go wrong between the record and a browser's database: each failure comes
 * back as a fault, nothing of the batch is left behind, and the next append works.
 * Runs on fake-indexeddb under Node and on Chromium's own IndexedDB in a page.
 */
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
      const heldOpen = await settle(harness.indexedDB.open(harness.databaseName, 1));
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
];
