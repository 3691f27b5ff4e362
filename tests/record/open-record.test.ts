/** Where the record ends up in browsers that give room, give none, or stand in the way. */
import 'fake-indexeddb/auto';
import { IDBFactory as FakeFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { RECORD_DATABASE, createIdbStore, openRecord } from '../../src/record';
import { CASE_A, makeCase } from './entry-samples';
import { settle } from './idb-tampering';

describe('where the record is kept', () => {
  test('[REC19] on disk where the browser gives room', async () => {
    const indexedDB = new FakeFactory();
    const { store, fault } = await openRecord(indexedDB);
    expect(fault).toBeNull();
    await store.append(CASE_A, makeCase(CASE_A, 2));
    const restarted = await openRecord(indexedDB);
    expect(await restarted.store.read(CASE_A)).toMatchObject({ ok: true });
  });

  test('[REC19] in memory, and says so, where there is no IndexedDB', async () => {
    const { store, fault } = await openRecord(undefined);
    expect(fault?.code).toBe('record-unavailable');
    expect(await store.append(CASE_A, makeCase(CASE_A, 2))).toMatchObject({ ok: true });
  });

  test('[REC19] in memory, and says so, where IndexedDB refuses', async () => {
    const { store, fault } = await openRecord(refusingFactory());
    expect(fault?.code).toBe('record-unavailable');
    expect(fault?.params['detail']).toContain('SecurityError');
    expect(await store.append(CASE_A, makeCase(CASE_A, 2))).toMatchObject({ ok: true });
  });

  test('[REC19] in memory, and says so, where a newer program owns the database', async () => {
    const indexedDB = new FakeFactory();
    (await settle(indexedDB.open(RECORD_DATABASE, 99))).close();
    expect((await openRecord(indexedDB)).fault?.code).toBe('record-too-new');
  });
});

test('[REC13] an opening that another window blocks is a fault, and the late connection is let go', async () => {
  const { indexedDB, connection } = await blockedFactory();
  const store = createIdbStore({ indexedDB });
  expect(await store.append(CASE_A, makeCase(CASE_A, 1))).toMatchObject({
    ok: false,
    error: { code: 'record-append-failed', params: { count: '1 entry' } },
  });
  // Only a closed connection refuses a transaction on a store that exists.
  expect(() => connection.transaction('entries')).toThrow(
    expect.objectContaining({ name: 'InvalidStateError' }),
  );
});

/** What a browser does in a private window that allows no storage: it throws at once. */
function refusingFactory(): IDBFactory {
  const refusing: Pick<IDBFactory, 'open'> = {
    open: () => {
      throw new DOMException('The operation is insecure.', 'SecurityError');
    },
  };
  return refusing as IDBFactory;
}

/** An opening that is blocked first and succeeds later (Indexed Database API 3.0, "upgrade a database"). */
async function blockedFactory(): Promise<{ indexedDB: IDBFactory; connection: IDBDatabase }> {
  const real = new FakeFactory();
  const making = real.open('late', 1);
  making.onupgradeneeded = () => making.result.createObjectStore('entries');
  const connection = await settle(making);
  const blocked: Pick<IDBFactory, 'open'> = {
    open: () => {
      const request = { result: connection } as unknown as Record<string, () => void>;
      queueMicrotask(() => {
        request['onblocked']?.();
        request['onsuccess']?.();
      });
      return request as unknown as IDBOpenDBRequest;
    },
  };
  return { indexedDB: blocked as IDBFactory, connection };
}
