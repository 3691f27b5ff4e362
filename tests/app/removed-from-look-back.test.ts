/** A case that a person removed from the record is not looked back on, and nothing of it stays on disk beside the record. */
import 'fake-indexeddb/auto';
import { beforeEach, expect, test } from 'vitest';
import { IDBFactory } from 'fake-indexeddb';
import { createKeeping } from '../../src/app/keeping/keeping';
import { ReviewDesk } from '../../src/app/review/review-desk';
import { DigestStore } from '../../src/app/review/digest-store';
import type { CaseId } from '../../src/domain';
import { createIdbStore, createLock, createSettings } from '../../src/record';
import type { ManyState } from '../../src/ui';
import { HandClock } from '../support/hand-clock';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';

const ALL = { mode: 'demo', procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null } as const; // prettier-ignore
const KEPT = 'case-kept' as CaseId;
const GONE = 'case-gone' as CaseId;

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

/** A record with two closed cases, and the look back as it starts in its worker. */
async function setUp() {
  const ring = createLock(createSettings(indexedDB), new HandClock());
  const store = createIdbStore({ indexedDB, ring });
  const sample = await openSampleCase();
  await sample.say(...WHOLE_CASE);
  await sample.session.submit({ type: 'case.close', outcome: 'finished' }, 'desk');
  for (const caseId of [KEPT, GONE]) {
    const entries = sample.session.entries.map((entry) => ({ ...entry, caseId }));
    expect((await store.append(caseId, entries)).ok).toBe(true);
  }
  const open = async () => {
    const states: ManyState[] = [];
    const desk = new ReviewDesk((state) => states.push(state), ring);
    await desk.load();
    return { desk, state: states.at(-1) };
  };
  const keptIds = async () => (await new DigestStore(ring).read()).map(({ caseId }) => caseId);
  return { store, ring, open, keptIds };
}

test('[REV91] a removed case leaves the look back, its files and what is kept of it', async () => {
  const { store, open, keptIds } = await setUp();
  expect((await open()).state?.caseCount).toBe(2);
  expect((await keptIds()).sort()).toEqual([GONE, KEPT]);

  expect((await store.remove(GONE, 5)).ok).toBe(true);
  const { desk, state } = await open();
  expect(state).toMatchObject({ caseCount: 1, fault: null });
  const question = { filter: ALL, timesOf: null, key: null, hours: { fromMin: 480, hours: 8 } };
  expect(desk.look(question).caseCount).toBe(1);
  expect(await desk.file(ALL, 'json')).not.toContain(GONE);
  expect(await keptIds()).toEqual([KEPT]);
  // The table that is kept beside the digests is of them as well.
  expect((await open()).state?.caseCount).toBe(1);
});

test('[REV91] a file of another machine brings no removed case back, and says so; its record does', async () => {
  const { store, open } = await setUp();
  const before = await open();
  const file = await before.desk.file(ALL, 'json');
  expect(file).toContain(GONE);
  const record = await store.readStored(GONE);
  if (!record.ok) throw new Error(record.error.code);

  await store.remove(GONE, 5);
  const { desk } = await open();
  expect(await desk.bring(file)).toMatchObject({
    value: { added: 0, remarks: [{ code: 'review-cases-removed', params: { count: '1' } }] },
  });
  expect((await open()).state?.caseCount).toBe(1);

  const back = await store.importCase(GONE, record.value as never);
  expect(back.ok).toBe(true);
  expect((await open()).state?.caseCount).toBe(2);
  expect(await desk.bring(file)).toMatchObject({ value: { remarks: [] } });
});

test('[REV91] removing drops at once what is kept of a case, without a visit to the look back', async () => {
  const { store, ring, open, keptIds } = await setUp();
  await open();
  const host = { current: null };
  const parts = { store, host, clock: new HandClock(), lock: ring } as unknown as Parameters<typeof createKeeping>[0]; // prettier-ignore
  expect(await createKeeping(parts).removeCases([GONE])).toMatchObject({ ok: true, value: 1 });
  expect(await keptIds()).toEqual([KEPT]);
});
