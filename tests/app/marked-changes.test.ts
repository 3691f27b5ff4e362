/** Marked changes: kept between visits, of what they are of, out and in with a file, covered under the lock. */
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { MarkStore } from '../../src/app/review/mark-store';
import { ReviewDesk } from '../../src/app/review/review-desk';
import { createLock, createSettings } from '../../src/record';
import { mergeMarks } from '../../src/review';
import type { MarkedChange } from '../../src/review';
import { settle } from '../record/idb-tampering';
import { HandClock } from '../support/hand-clock';

/** What a guess costs is not the matter here. */
const CHEAP = { memoryKiB: 64, passes: 1, lanes: 1 };
const FILTER = { mode: 'real' as const, procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null }; // prettier-ignore
const TRAY: MarkedChange = { mode: 'real', procedureId: 'knee', key: 'field/reaming', at: 5000, label: 'new tray' }; // prettier-ignore
const TEAM: MarkedChange = {
  mode: 'real',
  procedureId: null,
  key: null,
  at: 3000,
  label: 'new team',
};
const DEMO: MarkedChange = { ...TEAM, mode: 'demo', label: 'invented' };

const newLock = () => createLock(createSettings(indexedDB), new HandClock(), CHEAP);

function labelsOf(desk: ReviewDesk, procedureId: string | null, key: string | null): string[] {
  const answer = desk.look({
    filter: { ...FILTER, procedureId },
    timesOf: null,
    key,
    hours: { fromMin: 480, hours: 8 },
  });
  return answer.marks.map(({ label }) => label);
}

test('[REV82] marks are kept for the next visit, split only what they are of, and go out and in once', async () => {
  const lock = newLock();
  const open = async () => {
    const desk = new ReviewDesk(() => undefined, lock);
    await desk.load();
    return desk;
  };
  const first = await open();
  expect(await first.mark([TRAY, TEAM, DEMO])).toBeNull();
  expect(await first.mark([TRAY])).toBeNull();
  const later = await open();
  expect(labelsOf(later, 'knee', 'field/reaming')).toEqual(['new team', 'new tray']);
  expect(labelsOf(later, 'knee', 'field/screws')).toEqual(['new team']);
  expect(labelsOf(later, 'hip', 'field/reaming')).toEqual(['new team']);
  expect(labelsOf(later, null, null)).toEqual(['new team']);

  const file = await later.file(FILTER, 'json');
  expect((JSON.parse(file) as { marks: unknown }).marks).toEqual([TEAM, TRAY]);
  expect(await later.unmark(TRAY)).toBeNull();
  expect(await new MarkStore(lock).read()).toEqual([DEMO, TEAM]);
  for (let time = 0; time < 2; time += 1) expect((await later.bring(file)).ok).toBe(true);
  expect((await new MarkStore(lock).read()).map(({ label }) => label).sort()).toEqual(['invented', 'new team', 'new tray']); // prettier-ignore
  // A file whose marks are damaged is not believed at all; one of an earlier program has none.
  const damaged = file.replace('"at":5000', '"at":"soon"');
  expect(await later.bring(damaged)).toMatchObject({ error: { code: 'review-file-unreadable' } });
  expect((await later.bring('{"format":"cuewall-review","version":1,"cases":[]}\n')).ok).toBe(true);
});

test('[REV82] marks are in order of time, those of one moment in one order however they were kept', () => {
  const LATER = { ...TRAY, at: 4000 };
  for (const marks of [
    [LATER, TEAM, DEMO],
    [DEMO, TEAM, LATER],
    [TEAM, LATER, DEMO],
  ])
    // prettier-ignore
    expect(mergeMarks(marks, [])).toEqual([DEMO, TEAM, LATER]);
});

test('[REV82] under the lock no mark lies readable', async () => {
  const lock = newLock();
  const raw = async () => {
    const database = await settle(indexedDB.open('cuewall-review-marks'));
    const values = await settle(database.transaction('marks').objectStore('marks').getAll());
    database.close();
    return JSON.stringify(values);
  };
  const store = new MarkStore(lock);
  await store.add([TRAY]);
  expect(await raw()).toContain('new tray');
  expect((await lock.set('four grey horses by the mill')).ok).toBe(true);
  await store.coverAll();
  await store.add([{ ...TRAY, label: 'newer tray' }]);
  expect(await raw()).not.toMatch(/tray|knee/);
  expect((await store.read()).map(({ label }) => label)).toContain('newer tray');
  // A window that was told no passphrase reads none.
  expect(await new MarkStore(newLock()).read()).toEqual([]);
});
