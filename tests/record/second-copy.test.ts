/** What the second copy gives back, and what it must not keep. */
import 'fake-indexeddb/auto';
import { IDBFactory as FakeFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { RECORD_DATABASE, createIdbStore, createLock, createSettings, openRecord } from '../../src/record'; // prettier-ignore
import type { CopyPlace } from '../../src/record/second-copy';
import { HandClock } from '../support/hand-clock';
import { CASE_A, CASE_B, makeCase, makeOffer } from './entry-samples';
import { expectOk } from './expectations';
import { settle, withFailingCommit } from './idb-tampering';

const COPY_DATABASE = 'cuewall-second-copy';

/** A place whose files a test can look at; discarding it gives new ones. */
function createPlace(): CopyPlace & { files: IDBFactory; discarded: number } {
  const place = {
    files: new FakeFactory() as IDBFactory,
    discarded: 0,
    open: () => Promise.resolve(place.files),
    discard: () => {
      place.files = new FakeFactory();
      place.discarded += 1;
      return Promise.resolve();
    },
  };
  return place;
}

/** Every value of the copy, as text. */
async function readCopy(files: IDBFactory): Promise<string> {
  const database = await settle(files.open(COPY_DATABASE));
  const names = [...database.objectStoreNames];
  const all = names.map((name) => settle(database.transaction(name).objectStore(name).getAll()));
  const text = JSON.stringify(await Promise.all(all));
  database.close();
  return text;
}

describe('a browser that threw the database away', () => {
  test('[REC31] gets every case back at the next start, seals and tombstones included', async () => {
    const copyPlace = createPlace();
    const indexedDB = new FakeFactory();
    const { onDisk } = await openRecord(indexedDB, undefined, copyPlace);
    if (onDisk === null) throw new Error('not on disk');
    expectOk(await onDisk.append(CASE_A, makeCase(CASE_A, 3)));
    expectOk(await onDisk.append(CASE_A, [makeOffer(CASE_A, 3, 9)]));
    expectOk(await onDisk.append(CASE_B, makeCase(CASE_B, 2)));
    expectOk(await onDisk.remove(CASE_B, 5));
    await onDisk.copy?.catchUp();
    const before = expectOk(await onDisk.readStored(CASE_A));

    const restarted = await openRecord(new FakeFactory(), undefined, copyPlace);
    expect(expectOk(await restarted.store.readStored(CASE_A))).toEqual(before);
    expect(expectOk(await restarted.store.read(CASE_A)).seal.brokenAt).toEqual([]);
    const gone = await restarted.store.read(CASE_B);
    expect(gone).toMatchObject({ ok: false, error: { code: 'case-unknown' } });
    expect(expectOk(await restarted.store.listRemoved())).toHaveLength(1);
    expectOk(await restarted.store.append(CASE_A, [makeOffer(CASE_A, 4, 1)]));
  });

  test('[REC31] where the record has a case, the copy never replaces it', async () => {
    const copyPlace = createPlace();
    const indexedDB = new FakeFactory();
    const first = await openRecord(indexedDB, undefined, copyPlace);
    expectOk(await first.store.append(CASE_A, makeCase(CASE_A, 3)));
    await first.onDisk?.copy?.settled();
    // The record goes on without its copy, as in a browser that lost the bucket for a while.
    expectOk(await createIdbStore({ indexedDB }).append(CASE_A, [makeOffer(CASE_A, 3, 9)]));
    const again = await openRecord(indexedDB, undefined, copyPlace);
    expect(expectOk(await again.store.read(CASE_A)).entries).toHaveLength(4);
    await again.onDisk?.copy?.catchUp();
    const restarted = await openRecord(new FakeFactory(), undefined, copyPlace);
    expect(expectOk(await restarted.store.read(CASE_A)).entries).toHaveLength(4);
  });
});

describe('the copy itself', () => {
  test('[REC32] a copy whose write was cut short is begun anew, and the record goes on meanwhile', async () => {
    const copyPlace = createPlace();
    const { store, onDisk } = await openRecord(new FakeFactory(), undefined, copyPlace);
    expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
    await onDisk?.copy?.settled();
    await withFailingCommit('QuotaExceededError', async () => {
      await store.append(CASE_A, [makeOffer(CASE_A, 2, 1)]);
      onDisk?.copy?.renew(CASE_A);
      await onDisk?.copy?.settled();
    });
    expect(copyPlace.discarded).toBe(0);
    expectOk(await store.append(CASE_A, [makeOffer(CASE_A, 2, 1)]));
    // Acknowledged after a cut: then it is in the copy already.
    expect(copyPlace.discarded).toBe(1);
    const restarted = await openRecord(new FakeFactory(), undefined, copyPlace);
    expect(expectOk(await restarted.store.read(CASE_A)).entries).toHaveLength(3);
  });

  test('[REC32] a browser without a place for it, or whose place fails, keeps its record', async () => {
    const none: CopyPlace = { open: () => Promise.resolve(null), discard: () => Promise.resolve() };
    const broken: CopyPlace = {
      open: () => Promise.reject(new Error('no buckets')),
      discard: () => Promise.reject(new Error('no buckets')),
    };
    for (const copyPlace of [none, broken]) {
      const { store, fault } = await openRecord(new FakeFactory(), undefined, copyPlace);
      expect(fault).toBeNull();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
      expectOk(await store.append(CASE_A, [makeOffer(CASE_A, 2, 1)]));
      expect(expectOk(await store.read(CASE_A)).entries).toHaveLength(3);
    }
  });

  test('[LOC7] nothing of a case lies readable in the copy once a lock is set, and it gives the locked case back', async () => {
    const copyPlace = createPlace();
    const indexedDB = new FakeFactory();
    const cost = { memoryKiB: 64, passes: 1, lanes: 1 };
    const lock = createLock(createSettings(indexedDB, RECORD_DATABASE), new HandClock(), cost);
    const { onDisk, store } = await openRecord(indexedDB, lock, copyPlace);
    const closing = { ...makeOffer(CASE_A, 3, 0), type: 'case.closed' as const, data: { outcome: 'finished' as const } }; // prettier-ignore
    expectOk(await store.append(CASE_A, [...makeCase(CASE_A, 3), closing]));
    await onDisk?.copy?.settled();
    expect(await readCopy(copyPlace.files)).toContain('wedge-angle');
    expectOk(await lock.set('four grey horses by the mill'));
    await onDisk?.coverAll();
    expect(await readCopy(copyPlace.files)).not.toContain('wedge-angle');

    const wiped = new FakeFactory();
    const again = createLock(createSettings(wiped, RECORD_DATABASE), new HandClock(), cost);
    const restarted = await openRecord(wiped, again, copyPlace);
    expect(await again.state()).toBe('locked');
    expect(await restarted.store.read(CASE_A)).toMatchObject({ error: { code: 'record-locked' } });
    expectOk(await again.unlock('four grey horses by the mill'));
    expect(expectOk(await restarted.store.read(CASE_A)).entries).toHaveLength(4);
  });
});
