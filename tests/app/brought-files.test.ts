/** Files of other machines: what they bring is kept whole or not at all, and what was brought before stays. */
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, expect, test } from 'vitest';
import { DigestStore, PIECE } from '../../src/app/digest-store';
import { ReviewDesk } from '../../src/app/review-desk';
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

async function damageAPiece(): Promise<void> {
  const database = await settle(indexedDB.open('cuewall-review'));
  const store = database.transaction('digests', 'readwrite').objectStore('digests');
  const [name] = await settle(store.getAllKeys());
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

test('[REV92] where a kept piece can’t be read a file is refused, and the piece stays as it lies', async () => {
  const { desk } = await open();
  await desk.bring(digestsToJson(made(1, 3)));
  await damageAPiece();
  const later = await open();
  expect(later.states.at(-1)?.fault?.code).toBe('review-kept-unreadable');
  expect(await later.desk.bring(digestsToJson(made(10, 2)))).toMatchObject({
    ok: false,
    error: { code: 'review-kept-unreadable' },
  });
  const database = await settle(indexedDB.open('cuewall-review'));
  const pieces = await settle(database.transaction('digests').objectStore('digests').getAll());
  database.close();
  expect(pieces).toEqual(['[{"caseId":']);
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
  expect(sayBrought({ added: 12, known: 3, renewed: 0, remarks: [] })).toBe('12 cases added, 3 already known'); // prettier-ignore
  expect(sayBrought({ added: 1, known: 0, renewed: 2, remarks: [] })).toBe('1 case added, 2 brought up to date, 0 already known'); // prettier-ignore
});
