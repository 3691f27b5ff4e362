/** Files of other machines: what they bring is kept whole or not at all, and what was brought before stays. */
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, expect, test } from 'vitest';
import { DigestStore, PIECE } from '../../src/app/review/digest-store';
import { ReviewDesk } from '../../src/app/review/review-desk';
import { createLock, createSettings } from '../../src/record';
import { digestsToJson } from '../../src/review';
import type { CaseDigest } from '../../src/review';
import type { ManyState } from '../../src/ui';
import { sayBrought } from '../../src/ui/review/brought-words';
import { settle, withFailingCommit } from '../record/idb-tampering';
import { digestOf } from '../review/synthetic-team';
import { HandClock } from '../support/hand-clock';

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

const made = (from: number, count: number): readonly CaseDigest[] =>
  Array.from({ length: count }, (_, index) =>
    digestOf([{ id: 'only', passesMin: [60] }], from + index),
  );
const newLock = () => createLock(createSettings(indexedDB), new HandClock());
const idsOf = (digests: readonly CaseDigest[]) => digests.map(({ caseId }) => caseId).sort();
const keptIds = async () => idsOf(await new DigestStore(newLock()).read());

async function open() {
  const states: ManyState[] = [];
  const desk = new ReviewDesk((state) => states.push(state), newLock());
  await desk.load();
  return { desk, states };
}

/** Runs `act` while the disk takes so many pieces and refuses the next. */
async function withRoomFor<T>(pieces: number, act: () => Promise<T>): Promise<T> {
  const { put } = IDBObjectStore.prototype;
  let left = pieces;
  IDBObjectStore.prototype.put = function (...given: Parameters<typeof put>) {
    if (this.name === 'digests' && left-- <= 0) throw new DOMException('no room', 'QuotaExceededError'); // prettier-ignore
    return put.apply(this, given);
  };
  try {
    return await act();
  } finally {
    IDBObjectStore.prototype.put = put;
  }
}

async function damageAPiece(named = /./): Promise<void> {
  const database = await settle(indexedDB.open('cuewall-review'));
  const store = database.transaction('digests', 'readwrite').objectStore('digests');
  const name = (await settle(store.getAllKeys())).find((it) => named.test(JSON.stringify(it)));
  await settle(store.put('[{"caseId":', name));
  database.close();
}

test('[REV92] a disk that fails while a file is kept keeps nothing of it and every case that was brought before', async () => {
  const { desk, states } = await open();
  const first = made(1, 3);
  expect((await desk.bring(digestsToJson(first))).ok).toBe(true);
  const more = digestsToJson(made(10, PIECE + 1));
  const failing = [
    () => withRoomFor(0, () => desk.bring(more)),
    () => withRoomFor(1, () => desk.bring(more)),
    () => withFailingCommit('QuotaExceededError', () => desk.bring(more)),
  ];
  for (const bring of failing) {
    expect(await bring()).toMatchObject({ ok: false, error: { code: 'review-file-not-kept' } });
    expect(await keptIds()).toEqual(idsOf(first));
    expect(states.at(-1)?.caseCount).toBe(3);
    expect((await open()).states.at(-1)?.fault).toBeNull();
  }
  // With room again all of it is there, each case once.
  expect(await desk.bring(more)).toMatchObject({ ok: true });
  expect(await keptIds()).toEqual(idsOf([...first, ...made(10, PIECE + 1)]));
});

/** Everything that lies in the database of the digests, by name. */
async function pieces(): Promise<ReadonlyMap<string, unknown>> {
  const database = await settle(indexedDB.open('cuewall-review'));
  const store = database.transaction('digests').objectStore('digests');
  const names = await settle(store.getAllKeys());
  const values = await settle(store.getAll());
  database.close();
  return new Map(names.map((name, place) => [JSON.stringify(name), values[place] as unknown]));
}

test('[REV120] a damaged piece is set aside as it lies and told with a count; the others are there, and files come in again', async () => {
  const { desk } = await open();
  await desk.bring(digestsToJson(made(1, 3)));
  await new DigestStore(newLock()).add(made(50, 2));
  await damageAPiece(/of-3/);
  const later = await open();
  expect(later.states.map((state) => state.fault?.code)).toContain('review-parts-set-aside');
  const told = later.states.find((state) => state.fault?.code === 'review-parts-set-aside');
  expect(told?.fault?.params).toEqual({ what: '1 part, 3 cases' });
  expect(later.states.at(-1)).toMatchObject({ caseCount: 2, aside: { parts: 1, cases: 3 } });
  expect([...(await pieces()).values()]).toContain('[{"caseId":');

  expect(await later.desk.bring(digestsToJson(made(1, 4)))).toMatchObject({ value: { added: 4 } });
  expect(later.states.at(-1)?.caseCount).toBe(6);
  // Told once; that it lies there is shown at each visit until somebody throws it away.
  const third = await open();
  expect(third.states.map((state) => state.fault)).toEqual(third.states.map(() => null));
  expect(third.states.at(-1)).toMatchObject({ caseCount: 6, aside: { parts: 1, cases: 3 } });
  expect(await third.desk.forgetAside()).toBeNull();
  expect(third.states.at(-1)).toMatchObject({ caseCount: 6, aside: null });
  expect([...(await pieces()).keys()].filter((name) => name.includes('aside'))).toEqual([]);
});

test('[REV120] damage that is found only when a file comes in does not keep the file out', async () => {
  const { desk, states } = await open();
  await desk.bring(digestsToJson(made(1, 3)));
  await new DigestStore(newLock()).add(made(50, 2));
  const whole = await open();
  expect(whole.states.at(-1)?.caseCount).toBe(5);
  await damageAPiece(/of-3/);
  expect(await whole.desk.bring(digestsToJson(made(10, 2)))).toMatchObject({ value: { added: 2 } });
  await expect.poll(() => whole.states.at(-1)).toMatchObject({ caseCount: 4, progress: null, aside: { parts: 1, cases: 3 } }); // prettier-ignore
  expect(states.length).toBeGreaterThan(0);
});

test('[REV120] where the disk does not let a damaged piece be set aside it stays as it lies, and that is told', async () => {
  const { desk } = await open();
  await desk.bring(digestsToJson(made(1, 3)));
  await damageAPiece();
  const before = await pieces();
  const { later, refused } = await withRoomFor(0, async () => {
    const opened = await open();
    return { later: opened, refused: await opened.desk.bring(digestsToJson(made(10, 2))) };
  });
  expect(later.states.map((state) => state.fault?.code)).toContain('review-kept-unreadable');
  expect(refused).toMatchObject({ ok: false, error: { code: 'review-kept-unreadable' } });
  expect(await pieces()).toEqual(before);
});

test('[REV92] what another window keeps between the reading and the writing stays', async () => {
  const mine = new DigestStore(newLock());
  await mine.add(made(1, 2));
  const read = await mine.read();
  await new DigestStore(newLock()).add(made(5, 1));
  await mine.replace([...read, ...made(8, 1)]);
  expect(await keptIds()).toEqual(idsOf([...made(1, 2), ...made(5, 1), ...made(8, 1)]));
});

test('[REV96] a file is answered with what was added, known already and brought up to date', async () => {
  const { desk, states } = await open();
  expect(await desk.bring(digestsToJson(made(1, 3)))).toMatchObject({
    value: { added: 3, known: 0, renewed: 0, remarks: [] },
  });
  const [fuller] = made(1, 1).map((it) => ({ ...it, entryCount: it.entryCount + 1 }));
  const file = digestsToJson([...(fuller ? [fuller] : []), ...made(2, 6)]);
  expect(await desk.bring(file)).toMatchObject({ value: { added: 4, known: 2, renewed: 1 } });
  expect(states.at(-1)?.caseCount).toBe(7);
  expect(sayBrought({ added: 12, known: 3, renewed: 0, hours: null, remarks: [] })).toBe('12 cases added, 3 already known'); // prettier-ignore
  expect(sayBrought({ added: 1, known: 0, renewed: 2, hours: null, remarks: [] })).toBe('1 case added, 2 brought up to date, 0 already known'); // prettier-ignore
});
