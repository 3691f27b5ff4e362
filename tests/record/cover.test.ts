/** Entries under the lock: unreadable without the passphrase, and the running case goes on. */
import 'fake-indexeddb/auto';
import { IDBFactory as FakeFactory } from 'fake-indexeddb';
import { argon2id } from 'hash-wasm';
import { describe, expect, test } from 'vitest';
import { createIdbStore, createLock, createSettings } from '../../src/record';
import { HandClock } from '../support/hand-clock';
import { expectFault, expectOk } from './expectations';
import { CASE_A, CASE_B, makeCase, makeEntry, makeOffer } from './entry-samples';
import { settle } from './idb-tampering';

/** What a guess costs is not the matter here, except in one test. */
const CHEAP = { memoryKiB: 64, passes: 1, lanes: 1 };
const PASSPHRASE = 'four grey horses by the mill';

async function readRaw(indexedDB: IDBFactory): Promise<string> {
  const database = await settle(indexedDB.open('cuewall-record'));
  const values = await settle(database.transaction('entries').objectStore('entries').getAll());
  database.close();
  return JSON.stringify(values);
}

function openWindow(indexedDB: IDBFactory, clock = new HandClock()) {
  const lock = createLock(createSettings(indexedDB), clock, CHEAP);
  return { clock, lock, store: createIdbStore({ indexedDB, ring: lock }) };
}

const closing = (seq: number) =>
  makeEntry(CASE_A, seq, { type: 'case.closed', data: { outcome: 'finished' } });

describe('a record under the lock', () => {
  test('[LOC1] keeps nothing of an entry readable on disk, and gives it back where the lock is open', async () => {
    const indexedDB = new FakeFactory();
    const { lock, store } = openWindow(indexedDB);
    expectOk(await lock.set(PASSPHRASE));
    expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
    expectOk(await store.append(CASE_A, [makeOffer(CASE_A, 3, 24), closing(4)]));
    const raw = await readRaw(indexedDB);
    for (const word of ['depth', 'Surgeon A', 'Example operation', 'capture.offered', 'hash']) {
      expect(raw).not.toContain(word);
    }
    const read = expectOk(await store.read(CASE_A));
    expect(read.entries.slice(0, 4)).toEqual([...makeCase(CASE_A, 3), makeOffer(CASE_A, 3, 24)]);
    expect(read.seal.brokenAt).toEqual([]);
  });

  test('[LOC2] lets the running case go on after a restart, and no closed one be read', async () => {
    const indexedDB = new FakeFactory();
    const first = openWindow(indexedDB);
    expectOk(await first.lock.set(PASSPHRASE));
    expectOk(await first.store.append(CASE_A, makeCase(CASE_A, 3)));
    const { lock, store } = openWindow(indexedDB);
    expect(await lock.state()).toBe('locked');
    expect(expectOk(await store.read(CASE_A)).entries).toHaveLength(3);
    expectOk(await store.append(CASE_A, [closing(3)]));
    expect(expectFault(await store.read(CASE_A)).code).toBe('record-locked');
    expect(expectFault(await store.readStored(CASE_A)).code).toBe('record-locked');
    const [line] = expectOk(await store.listCases());
    expect(line).toMatchObject({
      caseId: CASE_A,
      mode: 'demo',
      isClosed: true,
      procedureTitle: null,
      side: null,
    });
    expectOk(await lock.unlock(PASSPHRASE));
    expect(expectOk(await store.read(CASE_A)).entries).toHaveLength(4);
    expect(expectOk(await store.listCases())[0]?.procedureTitle).toBe('Example operation');
    lock.lockNow();
    expect(expectFault(await store.read(CASE_A)).code).toBe('record-locked');
  });

  test('[LOC2] a new case can be opened and written while it is locked', async () => {
    const indexedDB = new FakeFactory();
    const first = openWindow(indexedDB);
    expectOk(await first.lock.set(PASSPHRASE));
    const { store } = openWindow(indexedDB);
    expectOk(await store.append(CASE_B, makeCase(CASE_B, 2)));
    expectOk(await store.append(CASE_B, [makeOffer(CASE_B, 2, 20)]));
    expect(expectOk(await store.read(CASE_B)).entries).toHaveLength(3);
  });

  test('[LOC3] covers closed cases that lay open, and puts live keys away', async () => {
    const indexedDB = new FakeFactory();
    const { lock, store } = openWindow(indexedDB);
    expectOk(await store.append(CASE_A, [...makeCase(CASE_A, 2), closing(2)]));
    expect(await readRaw(indexedDB)).toContain('Example operation');
    expectOk(await lock.set(PASSPHRASE));
    expect(await store.coverAll()).toBe(1);
    await store.putAwayKeys();
    expect(await readRaw(indexedDB)).not.toContain('Example operation');
    expect(expectOk(await store.read(CASE_A)).seal.brokenAt).toEqual([]);
  });

  test('[LOC1] a value that was changed or moved under the lock is no entry', async () => {
    const indexedDB = new FakeFactory();
    const { lock, store } = openWindow(indexedDB);
    expectOk(await lock.set(PASSPHRASE));
    expectOk(await store.append(CASE_A, makeCase(CASE_A, 4)));
    const database = await settle(indexedDB.open('cuewall-record'));
    const entries = database.transaction('entries', 'readwrite').objectStore('entries');
    const moved: unknown = await settle(entries.get([CASE_A, 1]));
    await settle(entries.put(moved, [CASE_A, 2]));
    database.close();
    const read = expectOk(await store.read(CASE_A));
    expect([read.entries.length, read.problem?.code]).toEqual([2, 'record-unreadable']);
  });
});

describe('the passphrase', () => {
  // The vector of RFC 9106, section 5.3, needs a secret and associated data, which are not used here;
  // this one is libargon2's own (phc-winner-argon2, test.c: Argon2id, v=19, t=2, m=64 MiB, p=1).
  test('[LOC4] becomes a key by Argon2id', async () => {
    const hash = await argon2id({
      password: 'password', salt: 'somesalt', iterations: 2, memorySize: 65_536, parallelism: 1,
      hashLength: 32, outputType: 'hex',
    }); // prettier-ignore
    expect(hash).toBe('09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7');
  });

  test('[LOC4] costs what RFC 9106 recommends unless told otherwise', async () => {
    const indexedDB = new FakeFactory();
    const settings = createSettings(indexedDB);
    const lock = createLock(settings, new HandClock());
    expectOk(await lock.set(PASSPHRASE));
    const kept = expectOk(await settings.read('lock'));
    expect(kept).toMatchObject({ kdf: { memoryKiB: 65_536, passes: 3, lanes: 4 } });
  }, 60_000);

  test('[LOC4] opens the lock, and no other does; wrong ones are made to wait', async () => {
    const indexedDB = new FakeFactory();
    const first = openWindow(indexedDB);
    expectOk(await first.lock.set(PASSPHRASE));
    const { lock, clock } = openWindow(indexedDB);
    for (let round = 0; round < 3; round += 1) {
      expect(expectFault(await lock.unlock('four grey horses by the mil')).code).toBe('lock-wrong');
    }
    expect(expectFault(await lock.unlock(PASSPHRASE))).toEqual({
      code: 'lock-wait',
      params: { seconds: '2' },
    });
    // Another window, or the same one opened again, has to wait as well.
    const again = createLock(createSettings(indexedDB), clock, CHEAP);
    expect(expectFault(await again.unlock(PASSPHRASE)).code).toBe('lock-wait');
    clock.advance(2_000);
    expect(expectFault(await lock.unlock('no')).code).toBe('lock-wrong');
    clock.advance(2_000);
    expect(expectFault(await lock.unlock(PASSPHRASE))).toEqual({
      code: 'lock-wait',
      params: { seconds: '2' },
    });
    clock.advance(2_000);
    expectOk(await lock.unlock(PASSPHRASE));
    expect(await lock.state()).toBe('unlocked');
  });

  test('[LOC5] must be long enough, and is set once', async () => {
    const { lock } = openWindow(new FakeFactory());
    expect(await lock.state()).toBe('none');
    expect(expectFault(await lock.set('too short'))).toEqual({
      code: 'lock-weak',
      params: { shortest: '15' },
    });
    expectOk(await lock.set(PASSPHRASE));
    expect(expectFault(await lock.set(`${PASSPHRASE} again`)).code).toBe('lock-set');
  });
});
