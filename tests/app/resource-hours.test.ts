/** Resource hours: kept between visits, out and in with a file, never over what was typed here; what can't be kept says so. */
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, expect, test } from 'vitest';
import { ReviewDesk } from '../../src/app/review/review-desk';
import { err, fault } from '../../src/domain';
import { createLock, createSettings } from '../../src/record';
import type { Settings } from '../../src/record';
import type { ManyState } from '../../src/ui';
import { sayBrought } from '../../src/ui/review/brought-words';
import { HandClock } from '../support/hand-clock';

const FILTER = { mode: 'real' as const, procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null }; // prettier-ignore
const EARLY = { fromMin: 450, hours: 9.5 };
const LATE = { fromMin: 720, hours: 6 };

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

async function open(settings: Settings = createSettings(indexedDB)) {
  const states: ManyState[] = [];
  const lock = createLock(createSettings(indexedDB), new HandClock());
  const desk = new ReviewDesk((state) => states.push(state), lock, settings);
  await desk.load();
  return { desk, states };
}

test('[REV99] resource hours are there at the next visit', async () => {
  const { desk, states } = await open();
  expect(states.at(-1)?.hours).toBeNull();
  expect(await desk.keepHours(LATE)).toBeNull();
  expect(await desk.keepHours(EARLY)).toBeNull();
  expect((await open()).states.at(-1)?.hours).toEqual(EARLY);
});

test('[REV99] they go out with the file for another machine, and in where none were typed', async () => {
  const { desk } = await open();
  await desk.keepHours(EARLY);
  const file = await desk.file(FILTER, 'json');

  globalThis.indexedDB = new IDBFactory();
  const other = await open();
  const brought = await other.desk.bring(file);
  expect(brought).toMatchObject({ ok: true, value: { hours: EARLY } });
  expect(other.states.at(-1)?.hours).toEqual(EARLY);
  expect((await open()).states.at(-1)?.hours).toEqual(EARLY);
  if (!brought.ok || !brought.value) throw new Error('The file was taken in');
  expect(sayBrought(brought.value)).toBe('0 cases added, 0 already known, resource hours taken over: from 07:30, 9.5 hours'); // prettier-ignore

  globalThis.indexedDB = new IDBFactory();
  const third = await open();
  await third.desk.keepHours(LATE);
  expect(await third.desk.bring(file)).toMatchObject({ value: { hours: null } });
  expect(third.states.at(-1)?.hours).toEqual(LATE);
});

test('[REV99] hours that are none make a file unreadable, and kept ones that are none are told', async () => {
  const { desk } = await open();
  for (const hours of ['{"fromMin":1440,"hours":8}', '{"fromMin":480,"hours":0}', '{"fromMin":480,"hours":25}', '{"fromMin":"8","hours":8}'])
    expect(await desk.bring(`{"format":"cuewall-review","version":1,"cases":[],"hours":${hours}}`)).toMatchObject({ error: { code: 'review-file-unreadable' } }); // prettier-ignore
  await createSettings(indexedDB).write('review-hours', { fromMin: 480, hours: 'many' });
  const later = await open();
  expect(later.states.map((state) => state.fault?.code)).toContain('settings-not-read');
  expect(later.states.at(-1)?.hours).toBeNull();
});

test('[REV99] hours that can’t be kept count for this visit, and that is said', async () => {
  const failed = err(fault('record-unavailable', { detail: 'no room' }));
  const kept = createSettings(indexedDB);
  const { desk, states } = await open({ read: (name) => kept.read(name), write: () => Promise.resolve(failed) }); // prettier-ignore
  expect(await desk.keepHours(EARLY)).toMatchObject({ code: 'review-hours-not-kept' });
  desk.report(fault('review-failed'));
  expect(states.at(-1)?.hours).toEqual(EARLY);
});
