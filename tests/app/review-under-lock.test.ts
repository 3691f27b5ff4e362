/** The look back over many cases under the lock: what its worker reads and what it leaves on disk. */
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { DigestStore } from '../../src/app/review/digest-store';
import { ReviewDesk } from '../../src/app/review/review-desk';
import { createIdbStore, createLock, createSettings } from '../../src/record';
import type { ManyState } from '../../src/ui';
import { settle } from '../record/idb-tampering';
import { HandClock } from '../support/hand-clock';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';

/** What a guess costs is not the matter here. */
const CHEAP = { memoryKiB: 64, passes: 1, lanes: 1 };

async function readDigestsRaw(): Promise<string> {
  const database = await settle(indexedDB.open('cuewall-review'));
  const values = await settle(database.transaction('digests').objectStore('digests').getAll());
  database.close();
  return JSON.stringify(values);
}

test('[LOC10] the look back reads what was closed under the lock, and leaves no digest readable', async () => {
  const lock = createLock(createSettings(indexedDB), new HandClock(), CHEAP);
  const store = createIdbStore({ indexedDB, ring: lock });
  const sample = await openSampleCase();
  await sample.say(...WHOLE_CASE);
  await sample.session.submit({ type: 'case.close', outcome: 'finished' }, 'desk');
  const before = sample.session.entries.map((entry) => ({
    ...entry,
    caseId: 'case-before' as never,
  }));
  expect((await store.append('case-before' as never, before)).ok).toBe(true);
  const open = async (isUnlocked: boolean): Promise<ManyState | undefined> => {
    // As in the worker: a lock of its own that knows no passphrase.
    const own = createLock(createSettings(indexedDB), new HandClock(), CHEAP);
    own.adopt(isUnlocked ? lock.share() : null);
    const states: ManyState[] = [];
    const desk = new ReviewDesk((state) => states.push(state), own);
    await desk.load();
    return states.at(-1);
  };
  expect((await open(true))?.caseCount).toBe(1);
  expect(await readDigestsRaw()).toContain('case-before');

  expect((await lock.set('four grey horses by the mill')).ok).toBe(true);
  expect(await store.coverAll()).toBe(1);
  await new DigestStore(lock).coverAll();
  expect(await readDigestsRaw()).not.toContain('case-before');
  const after = sample.session.entries.map((entry) => ({
    ...entry,
    caseId: 'case-after' as never,
  }));
  expect((await store.append('case-after' as never, after)).ok).toBe(true);

  expect((await open(false))?.caseCount).toBe(0);
  expect((await open(true))?.caseCount).toBe(2);
  expect(await readDigestsRaw()).not.toMatch(/case-before|case-after|surgeon/);
  // Kept, and not read from the record again: the same with the record gone.
  expect((await new DigestStore(lock).read()).map(({ caseId }) => caseId).sort()).toEqual([
    'case-after',
    'case-before',
  ]);
});
