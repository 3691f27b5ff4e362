/** Stop and Continue of the look back, on a real record of invented cases in IndexedDB. */
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { PIECE } from '../../src/app/review/digest-store';
import { ReviewDesk } from '../../src/app/review/review-desk';
import { createLock, createSettings, openRecord } from '../../src/record';
import { digestsToJson } from '../../src/review';
import type { ManyState } from '../../src/ui';
import { digestOf } from '../review/synthetic-team';
import { settle } from '../record/idb-tampering';
import { HandClock } from '../support/hand-clock';

const COUNT = 16;

beforeEach(() => {
  vi.stubGlobal('indexedDB', new IDBFactory());
});
afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

function open() {
  const told: ManyState[] = [];
  const watch: { onTold(state: ManyState): void } = { onTold: () => undefined };
  const lock = createLock(createSettings(indexedDB), new HandClock());
  const desk = new ReviewDesk((state) => {
    told.push(state);
    watch.onTold(state);
  }, lock);
  const last = (): ManyState => {
    const state = told.at(-1);
    if (!state) throw new Error('Nothing was told');
    return state;
  };
  const countKept = async (): Promise<number> => {
    const { store } = await openRecord(indexedDB, lock);
    const heads = await store.listHeads();
    if (!heads.ok) throw new Error(heads.error.code);
    return heads.value.length;
  };
  return { desk, watch, last, countKept };
}

/** A record of cases that the look back has not read yet; each is told, as where reading one takes a second. */
async function fillRecord(): Promise<void> {
  expect(await open().desk.addDemo(COUNT)).toBeNull();
  const database = await settle(indexedDB.open('cuewall-review'));
  await settle(database.transaction('digests', 'readwrite').objectStore('digests').clear());
  database.close();
  let now = 0;
  vi.spyOn(performance, 'now').mockImplementation(() => (now += 2000));
}

test('[REV97] stopped while invented cases are added, it says how far it was; Continue adds the rest, each once', async () => {
  const { desk, watch, last, countKept } = open();
  await desk.load();
  watch.onTold = ({ progress }) => {
    if (progress?.done === 10) desk.cancel();
  };
  expect(await desk.addDemo(COUNT)).toBeNull();
  expect(last()).toMatchObject({ progress: null, stopped: { done: 10, total: COUNT } });
  const kept = await countKept();
  expect(kept).toBeGreaterThanOrEqual(10);
  expect(kept).toBeLessThan(COUNT);
  // What was added is there to look back on.
  expect(last().caseCount).toBe(kept);
  watch.onTold = () => undefined;
  expect(await desk.resume()).toEqual({ ok: true, value: null });
  expect(last()).toMatchObject({ progress: null, stopped: null, caseCount: COUNT });
  expect(await countKept()).toBe(COUNT);
});

test('[REV97] stopped while it reads, what was read stays and Continue reads the rest', async () => {
  await fillRecord();
  const { desk, watch, last } = open();
  watch.onTold = ({ progress }) => {
    if (progress?.done === 7) desk.cancel();
  };
  await desk.load();
  expect(last()).toMatchObject({
    progress: null,
    stopped: { kind: 'reading', done: 7, total: COUNT },
    caseCount: 7,
  });
  watch.onTold = () => undefined;
  expect(await desk.resume()).toEqual({ ok: true, value: null });
  expect(last()).toMatchObject({ progress: null, stopped: null, caseCount: COUNT });
});

test('[REV97] a file that is stopped leaves nothing behind; Continue takes all of it in', async () => {
  const cases = Array.from({ length: 2 * PIECE + 1 }, (_, place) =>
    digestOf([{ id: 'only', passesMin: [60] }], place + 1),
  );
  const { desk, watch, last } = open();
  await desk.load();
  // While the cases are checked, then while they are made ready to be written.
  for (const stopAt of [PIECE, cases.length + PIECE]) {
    watch.onTold = ({ progress }) => {
      if (progress?.done === stopAt) desk.cancel();
    };
    expect(await desk.bring(digestsToJson(cases))).toEqual({ ok: true, value: null });
    expect(last()).toMatchObject({
      progress: null,
      stopped: { kind: 'bringing', done: stopAt },
      caseCount: 0,
    });
    const again = open();
    await again.desk.load();
    expect(again.last().caseCount).toBe(0);
  }
  watch.onTold = () => undefined;
  expect(await desk.resume()).toMatchObject({ ok: true, value: { added: cases.length, known: 0 } });
  expect(last()).toMatchObject({ progress: null, stopped: null, caseCount: cases.length });
});

test('[REV97] a file waits for no reading, which goes on after it; while it is taken in nothing else begins', async () => {
  await fillRecord();
  const { desk, watch, last } = open();
  const file = digestsToJson([digestOf([{ id: 'only', passesMin: [60] }], 1)]);
  const said: unknown[] = [];
  let isAsked = false;
  watch.onTold = ({ progress }) => {
    if (progress?.kind === 'reading' && progress.done === 5 && !isAsked) {
      isAsked = true;
      const bringing = desk.bring(file);
      said.push(bringing, desk.addDemo(1), desk.bring(file));
    }
  };
  await desk.load();
  const [first, second, third] = await Promise.all(said);
  expect(first).toMatchObject({ ok: true, value: { added: 1 } });
  expect(second).toMatchObject({ code: 'review-busy' });
  expect(third).toMatchObject({ ok: false, error: { code: 'review-busy' } });
  await expect
    .poll(() => last(), { timeout: 30_000 })
    .toMatchObject({ progress: null, caseCount: COUNT + 1 });
});

test('[REV97] with nothing in hand Stop says nothing', async () => {
  const { desk, last } = open();
  await desk.load();
  desk.cancel();
  expect(last().stopped).toBeNull();
});
