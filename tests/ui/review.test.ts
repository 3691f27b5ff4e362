/** Texts and layout of the review. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import {
  foldSizes,
  foldTimes,
  makeTimeline,
  tabulatePhases,
  tabulateSteps,
} from '../../src/review';
import { describeBuiltIn } from '../../src/session';
import { rangeText } from '../../src/ui/review/case-words';
import { dayToMs, sayFilter } from '../../src/ui/review/filter-words';
import { phaseRows } from '../../src/ui/review/phase-rows';
import {
  fitLabel,
  labelEnd,
  layOutPicture,
  markLabel,
  PICTURE,
} from '../../src/ui/review/picture-layout';
import { listSizes } from '../../src/ui/review/sizes-table';
import { HandCase, OUTLINE } from '../review/hand-case';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';

test('[REV51] the team’s usual is a range; with too few cases the procedure’s usual, without either a dash', () => {
  const min = (minutes: number) => minutes * 60_000;
  const range = { count: 32, medianMs: min(11), lowMs: min(8), highMs: min(14) };
  expect(rangeText(range, min(12))).toBe('8.0 to 14 min');
  expect(rangeText({ ...range, count: 5, lowMs: null, highMs: null }, min(12))).toBe(
    'usual 12 min',
  );
  expect(rangeText(undefined, min(12))).toBe('usual 12 min');
  expect(rangeText(undefined, null)).toBe('–');
});

afterEach(() => {
  vi.unstubAllEnvs();
});

test.each([
  ['the day that loses an hour', '2026-03-29', 23, 'to 29 Mar 2026'],
  ['the day that gains one', '2026-10-25', 25, 'to 25 Oct 2026'],
  ['any other', '2026-10-26', 24, 'to 26 Oct 2026'],
])('[REV40] a period ends with the whole of %s, and says that day', (_, day, hours, words) => {
  // IANA's zone: summer time begins and ends on the last Sundays of March and October.
  vi.stubEnv('TZ', 'Europe/Vienna');
  const to = dayToMs(day, 1);
  expect(((to ?? 0) - (dayToMs(day, 0) ?? 0)) / 3_600_000).toBe(hours);
  const open = { procedureId: null, side: null, role: null, alternative: null, cards: null };
  const choices = { modes: [], procedures: [], roles: [], alternatives: [] };
  expect(sayFilter({ mode: 'real', ...open, from: null, to }, choices)).toEqual([words]);
  expect(dayToMs('', 1)).toBeNull();
});

test('[REV19] sizes stand beside their plan, with their story', async () => {
  const sample = await openSampleCase();
  await sample.say(
    ...WHOLE_CASE.map((phrase) =>
      phrase === 'glenosphere four zero' ? 'glenosphere four four' : phrase,
    ),
  );
  const card = describeBuiltIn('reverse-shoulder-glenoid');
  if (!card.ok) throw new Error('The flagship loads');
  const { session } = sample;
  const plan = { wedge: 16, direction: 630, depth: 24, sphere: 40 };
  const lines = listSizes(session.view, card.value.planFields, plan, foldSizes(session.entries));
  expect(
    lines.map(({ label, settled, planned, differs }) => [label, settled, planned, differs]),
  ).toEqual([
    ['Wedge', '16°', '16°', false],
    ['Mark', '10:30', '10:30', false],
    ['Trial', 'Even', null, false],
    ['Depth', '24 mm', '24 mm', false],
    ['Plate', 'Small', null, false],
    ['Post', '24 mm', null, false],
    ['Screws 1', '30 mm', null, false],
    ['Screws 2', '26 mm', null, false],
    ['Sphere', '44 mm', '40 mm', true],
  ]);
  expect(lines[0]?.story).toBe('corrected once');
  expect(lines[2]?.story).toBe('changed once');
});

test('[REV3] a duration across a restart is marked "~ wall clock" in the table', () => {
  const hand = new HandCase(new Date(2026, 2, 4, 13, 25).getTime());
  hand.begin('cut').pass(4).restart().pass(2).finish('cut').close();
  const times = foldTimes(hand.entries, OUTLINE);
  const [track] = OUTLINE.tracks;
  if (!track) throw new Error('The hand-made outline has tracks');
  const rows = phaseRows(
    track,
    tabulatePhases(times, OUTLINE, hand.now),
    tabulateSteps(times, OUTLINE, hand.now),
    new Map(),
  );
  expect(rows[0]?.cells.slice(0, 5)).toEqual([
    '1 Opening',
    '13:25',
    '13:31',
    '6:00 ~ wall clock',
    '6:00',
  ]);
  expect(rows[1]).toMatchObject({ isPart: true });
  expect(rows[1]?.cells[4]).toBe('6:00 ~ wall clock');
});

describe('the picture', () => {
  test('[REV20] marks that would touch go one row down and stay inside', () => {
    const hand = new HandCase().begin('cut');
    for (const milestone of ['PIR', 'AS', 'AR', 'PST', 'PF', 'POR'] as const) {
      hand.add({ type: 'milestone.reached', data: { milestone } }).pass(0.2);
    }
    hand.pass(90).close();
    const layout = layOutPicture(makeTimeline(hand.entries, OUTLINE, hand.now), 700);
    const boxes = layout.marks.map(({ mark, x, row }) => ({
      row,
      from: x,
      to: x + PICTURE.markSize + markLabel(mark).length * 8,
    }));
    for (const a of boxes) {
      expect(a.to).toBeLessThanOrEqual(700);
      for (const b of boxes) {
        if (a !== b && a.row === b.row) expect(a.to <= b.from || b.to <= a.from).toBe(true);
      }
    }
  });

  test('[REV20] reasons of a held clock stay inside and never cover each other; one without room is left out', () => {
    const hand = new HandCase().begin('cut').pass(20);
    const hold = (reason: string, minutes: number) =>
      hand.add({ type: 'clock.held', data: { reason } }).pass(minutes).add({ type: 'clock.resumed', data: {} }); // prettier-ignore
    hold('imaging is on its way', 3).pass(1);
    hold('a second one right after it', 2).pass(50);
    hold('waiting near the end', 2).close();
    const { held } = layOutPicture(makeTimeline(hand.entries, OUTLINE, hand.now), 700);
    expect(held.map(({ text }) => text)).toEqual([
      'held: imaging is on its way',
      'held: waiting near the end',
    ]);
    for (const [index, { text, x }] of held.entries()) {
      expect(x).toBeGreaterThanOrEqual(0);
      // Eight dots a character are more than any letter of 13 needs on average.
      expect(x + 8 * text.length).toBeLessThanOrEqual(held[index + 1]?.x ?? 700);
    }
  });

  test('[REV20] a label stands only where it has room', () => {
    expect(fitLabel(3, 'Reaming', 200)).toBe('3 Reaming');
    expect(fitLabel(3, 'Reaming', 40)).toBe('3');
    expect(fitLabel(3, 'Reaming', 12)).toBe('');
    // Phases that were gone back to lie over one another; a label ends where the next begins.
    const [early, late] = [{ fromMs: 0, toMs: 90 }, { fromMs: 30, toMs: 100 }]; // prettier-ignore
    expect([labelEnd(early, [late, early]), labelEnd(late, [late, early])]).toEqual([30, 100]);
  });
});
