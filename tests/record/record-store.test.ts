/** The acceptance suite of the record on the memory adapter and on fake-indexeddb. Chromium's: tests/browser. */
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, test } from 'vitest';
import { createMemoryStore } from '../../src/record';
import type { MemoryContents } from '../../src/record';
import { idbFailureSuite } from './idb-failure-suite';
import { withoutHash } from './expectations';
import { createIdbHarness } from './idb-tampering';
import { recordStoreSuite } from './record-store-suite';
import type { StoreHarness } from './record-store-suite';

describe('memory adapter', () => {
  for (const { name, run } of recordStoreSuite) {
    test(name, () => run(createMemoryHarness()));
  }
});

describe('IndexedDB adapter on fake-indexeddb', () => {
  for (const { name, run } of [...recordStoreSuite, ...idbFailureSuite]) {
    test(name, () => run(createIdbHarness(new IDBFactory())));
  }
});

function createMemoryHarness(): StoreHarness {
  let contents: MemoryContents = new Map();
  return {
    open: () => {
      contents = new Map();
      return Promise.resolve(createMemoryStore(contents));
    },
    reopen: () => Promise.resolve(createMemoryStore(contents)),
    plant: (caseId, seq, value) => {
      contents.set(caseId, [...(contents.get(caseId) ?? []), { seq, value }]);
      return Promise.resolve();
    },
    dump: (caseId) =>
      Promise.resolve((contents.get(caseId) ?? []).map(({ value }) => withoutHash(value))),
    dumpSealed: (caseId) => Promise.resolve((contents.get(caseId) ?? []).map(({ value }) => value)),
    overwrite: (caseId, seq, value) => {
      const values = (contents.get(caseId) ?? []).filter((line) => line.seq !== seq);
      const changed = value === undefined ? values : [...values, { seq, value }];
      contents.set(
        caseId,
        changed.sort((a, b) => a.seq - b.seq),
      );
      return Promise.resolve();
    },
  };
}
