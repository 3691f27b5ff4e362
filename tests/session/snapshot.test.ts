/**
 * Snapshots are a cache of the record: what they give back is measured against a replay
 * of the whole record, and every way in which one can be wrong must lead to that replay.
 */
import 'fake-indexeddb/auto';
import { IDBFactory as FakeFactory } from 'fake-indexeddb';
import { describe, expect, it } from 'vitest';
import { openCase } from '../../src/cli/rehearsal-case';
import { VirtualClock } from '../../src/cli/virtual-room';
import { asId, ENTRY_VERSION, toEntry } from '../../src/domain';
import type { CaseId, Entry, Fact, Fault, RunId } from '../../src/domain';
import { createIdbStore, createLock, createSettings, createSnapshotStore } from '../../src/record';
import type { RecordStore, Snapshot } from '../../src/record';
import type { SnapshotPlace } from '../../src/record/snapshot-store';
import { CaseLog, CaseSession, REHEARSAL_PLANS, writeScript } from '../../src/session';
import { factsToText } from '../../src/session/kept/case-snapshot';
import { settle } from '../record/idb-tampering';
import { HandClock } from '../support/hand-clock';
import { heardPhrase, openSampleCase, SAMPLE_SETTINGS, WHOLE_CASE } from '../support/sample-case';

/** A store in Node is slow, and the machine does other things as well. */
const LONG = { timeout: 60_000 };
const SPOKEN = WHOLE_CASE.filter((words) => !words.startsWith('+'));
const CASE: CaseId = asId('case-sample');
const viewOf = (log: CaseLog) => log.view(0, null);

function openPlace(): SnapshotPlace & { readonly kept: Map<CaseId, unknown> } {
  const kept = new Map<CaseId, unknown>();
  return {
    kept,
    get: (caseId) => Promise.resolve(kept.get(caseId)),
    set: (caseId, value) => Promise.resolve(void kept.set(caseId, value)),
    del: (caseId) => Promise.resolve(void kept.delete(caseId)),
    clear: () => {
      kept.clear();
      return Promise.resolve();
    },
  };
}

function openWindow(indexedDB: IDBFactory, place: SnapshotPlace, build = 'build-1') {
  const store = createIdbStore({ indexedDB });
  const reads: string[] = [];
  const watched: RecordStore = {
    ...store,
    read: (caseId) => {
      reads.push('whole');
      return store.read(caseId);
    },
  };
  const clock = new HandClock();
  const faults: Fault[] = [];
  const snapshots = createSnapshotStore(store.guard, build, place);
  const report = (why: Fault): void => void faults.push(why);
  const ports = { store: watched, clock, scheduler: clock, run: asId<RunId>(build), snapshots, report }; // prettier-ignore
  return { store, ports, clock, reads, faults, snapshots };
}

/** A case of so many entries on disk, with a snapshot of an earlier moment. */
async function makeLongCase(count: number, build = 'build-1') {
  const indexedDB = new FakeFactory();
  const place = openPlace();
  const sample = await openSampleCase();
  const { ports, store } = openWindow(indexedDB, place, build);
  await store.append(CASE, sample.session.entries);
  const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, CASE);
  if (!resumed.ok) throw new Error(resumed.error.code);
  for (let said = 0; resumed.value.view.entryCount < count; said += 1)
    await resumed.value.hear(heardPhrase(said % 7 === 6 ? null : (SPOKEN[said % SPOKEN.length] ?? null))); // prettier-ignore
  await until(() => place.kept.has(CASE));
  return { indexedDB, place, live: resumed.value };
}

async function until(isSo: () => boolean): Promise<void> {
  for (let turn = 0; turn < 500 && !isSo(); turn += 1) await new Promise((it) => setImmediate(it));
  expect(isSo()).toBe(true);
}

/** Lets the check beside the screen come to its end. */
async function checkAll(session: CaseSession, clock: HandClock) {
  let whole: Awaited<ReturnType<CaseSession['untilWhole']>> | null = null;
  void session.untilWhole().then((it) => (whole = it));
  for (let turn = 0; turn < 2000 && whole === null; turn += 1) {
    clock.advance(0);
    await new Promise((it) => setImmediate(it));
  }
  return whole as Awaited<ReturnType<CaseSession['untilWhole']>> | null;
}

async function resume(window: ReturnType<typeof openWindow>): Promise<CaseSession> {
  const resumed = await CaseSession.resume(window.ports, SAMPLE_SETTINGS, CASE);
  if (!resumed.ok) throw new Error(resumed.error.code);
  return resumed.value;
}

/** The view that the record alone gives. */
async function viewOfRecord(store: RecordStore) {
  const read = await store.read(CASE);
  if (!read.ok) throw new Error(read.error.code);
  const log = CaseLog.rebuild(read.value.entries, SAMPLE_SETTINGS);
  if (!log.ok) throw new Error(log.error.code);
  return viewOf(log.value);
}

describe('a snapshot', () => {
  it.each(REHEARSAL_PLANS.map(({ procedure }) => procedure))(
    '[SES80] of %s, made at every 13th entry, goes on as a replay of all entries does',
    LONG,
    async (name) => {
      const plan = REHEARSAL_PLANS.find(({ procedure }) => procedure === name);
      if (!plan) throw new Error(name);
      const clock = new VirtualClock(0);
      const running = await openCase(clock, { procedure: name, side: plan.side, plan: {} });
      await writeScript({ running, advance: (ms) => { clock.advance(ms); } }, plan); // prettier-ignore
      const { entries } = running;
      const [opening] = entries;
      if (!opening) throw new Error('The case has no opening');
      const whole = CaseLog.rebuild(entries, SAMPLE_SETTINGS);
      if (!whole.ok) throw new Error(whole.error.code);
      const replayed = CaseLog.rebuild(entries.slice(0, 1), SAMPLE_SETTINGS);
      if (!replayed.ok) throw new Error(replayed.error.code);
      expect(entries.length).toBeGreaterThan(100);
      for (let count = 1; count < entries.length; count += 1) {
        const text = factsToText(replayed.value.facts);
        if (text !== null && count % 13 === 1) {
          const snapshot: Snapshot = { tail: { count, hash: '' }, text };
          const now = CaseLog.restore(opening, snapshot, [], SAMPLE_SETTINGS);
          expect(now && viewOf(now)).toEqual(viewOf(replayed.value));
          expect(now?.vocabulary()).toEqual(replayed.value.vocabulary());
          const later = CaseLog.restore(opening, snapshot, entries.slice(count), SAMPLE_SETTINGS);
          expect(later && viewOf(later)).toEqual(viewOf(whole.value));
        }
        replayed.value.add(entries.slice(count, count + 1));
      }
    },
  );

  it(
    '[SES80] puts a case back without reading it whole, and the rest is read when it is back',
    LONG,
    async () => {
      const { indexedDB, place, live } = await makeLongCase(700);
      const window = openWindow(indexedDB, place);
      const session = await resume(window);
      expect(window.reads).toEqual([]);
      expect(session.entries.length).toBeLessThan(live.entries.length);
      const { entryCount, ...shown } = session.view;
      const { entryCount: before, ...was } = live.view;
      expect(entryCount).toBe(before + 1);
      expect({ ...shown, refusals: was.refusals }).toEqual(was);
      expect(await checkAll(session, window.clock)).toEqual({ ok: true, value: undefined });
      const read = await window.store.read(CASE);
      expect(read.ok && read.value.entries).toEqual(session.entries);
      expect(window.faults).toEqual([]);
    },
  );

  const wrongs: readonly [string, (place: Map<CaseId, unknown>) => void, string?][] = [
    ['of another build', () => undefined, 'build-2'],
    ['that was damaged', (kept) => change(kept, (it) => ({ ...it, text: it.text.replace('"count":', '"count":1') }))], // prettier-ignore
    ['with another last entry', (kept) => change(kept, (it) => ({ ...it, tail: { ...it.tail, hash: 'f'.repeat(64) } }))], // prettier-ignore
    ['that is no snapshot', (kept) => kept.set(CASE, 'nothing')],
  ];
  it.each(wrongs)('[SES81] %s is not used', LONG, async (_, spoil, build) => {
    const { indexedDB, place } = await makeLongCase(500);
    spoil(place.kept);
    const window = openWindow(indexedDB, place, build);
    const session = await resume(window);
    expect(window.reads).toEqual(['whole']);
    expect(session.view).toEqual(await viewOfRecord(window.store));
  });

  it(
    '[SES81] that says another state than its record is found, thrown away, and the record shown',
    LONG,
    async () => {
      const { indexedDB, place } = await makeLongCase(700);
      const forging = openWindow(indexedDB, place);
      const honest = await forging.snapshots.read(CASE);
      if (!honest) throw new Error('There is no snapshot');
      const facts = JSON.parse(honest.text) as { tallies: object; rounds: object };
      const forged = JSON.stringify({ ...facts, rounds: { 'place-pin': 9 } });
      // As somebody would who knows how it is made: with a digest of its own.
      expect(await forging.snapshots.write(CASE, honest.tail.count, forged)).toBe(true);
      const window = openWindow(indexedDB, place);
      const session = await resume(window);
      expect(window.reads).toEqual([]);
      expect(await checkAll(session, window.clock)).toEqual({ ok: true, value: undefined });
      expect(session.view).toEqual(await viewOfRecord(window.store));
      expect(window.faults.map(({ code }) => code)).toEqual(['snapshot-wrong']);
      expect(place.kept.has(CASE)).toBe(false);
    },
  );

  it(
    '[SES81] before which the record was changed gives way to what the record says',
    LONG,
    async () => {
      const { indexedDB, place } = await makeLongCase(700);
      const database = await settle(indexedDB.open('cuewall-record'));
      const entries = database.transaction('entries', 'readwrite').objectStore('entries');
      const value = (await settle(entries.get([CASE, 20]))) as Entry;
      await settle(entries.put({ ...value, at: value.at + 1 }, [CASE, 20]));
      database.close();
      const window = openWindow(indexedDB, place);
      const session = await resume(window);
      expect(await checkAll(session, window.clock)).toEqual({ ok: true, value: undefined });
      expect(window.reads).toEqual(['whole']);
      expect(session.view).toEqual(await viewOfRecord(window.store));
      expect(place.kept.has(CASE)).toBe(false);
    },
  );

  it('[SES82] is gone once its case is closed', LONG, async () => {
    const { place, live } = await makeLongCase(500);
    await live.submit({ type: 'case.close', outcome: 'finished' }, 'desk');
    await until(() => !place.kept.has(CASE));
  });

  it('[LOC9] lies encrypted where its case does', LONG, async () => {
    const indexedDB = new FakeFactory();
    const lock = createLock(createSettings(indexedDB), new HandClock(), { memoryKiB: 64, passes: 1, lanes: 1 }); // prettier-ignore
    expect((await lock.set('four grey horses by the mill')).ok).toBe(true);
    const store = createIdbStore({ indexedDB, ring: lock });
    const sample = await openSampleCase();
    await store.append(CASE, sample.session.entries);
    const place = openPlace();
    const snapshots = createSnapshotStore(store.guard, 'build-1', place);
    expect(await snapshots.write(CASE, sample.session.entries.length, 'guide pin')).toBe(true);
    expect(JSON.stringify(place.kept.get(CASE))).not.toMatch(/guide pin|build-1|text/);
    // Another window, without the passphrase, on a case that is open.
    const locked = createIdbStore({ indexedDB, ring: createLock(createSettings(indexedDB), new HandClock()) }); // prettier-ignore
    const again = await createSnapshotStore(locked.guard, 'build-1', place).read(CASE);
    expect(again?.text).toBe('guide pin');
    const closed: Fact = { type: 'case.closed', data: { outcome: 'finished' } };
    const [first] = sample.session.entries;
    if (!first) throw new Error('The case has no opening');
    const { at, mono, run } = first;
    const head = { caseId: CASE, seq: sample.session.entries.length, source: 'desk', version: ENTRY_VERSION, at, mono, run } as const; // prettier-ignore
    expect((await store.append(CASE, [toEntry(head, closed)])).ok).toBe(true);
  });
});

interface KeptText {
  readonly text: string;
  readonly tail: Snapshot['tail'];
}

function change(kept: Map<CaseId, unknown>, make: (it: KeptText) => KeptText): void {
  kept.set(CASE, make(kept.get(CASE) as KeptText));
}
