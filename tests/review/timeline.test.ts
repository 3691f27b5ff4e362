/** The numbers behind the picture. */
import { describe, expect, test } from 'vitest';
import type { Entry } from '../../src/domain';
import { CaseAxis, caseTimesToCsv, makeTimeline } from '../../src/review';
import { listCaptures } from '../../src/session';
import { markToText } from '../../src/ui/review/mark-text';
import { openSampleCase } from '../support/sample-case';
import { HandCase, OUTLINE } from './hand-case';

const MIN = 60_000;

/** The procedure that a case was opened with. */
function setupOf([opening]: readonly Entry[]): unknown {
  return opening?.type === 'case.opened' ? opening.data.procedure : null;
}

describe('the axis', () => {
  test('[REV8] measures by the monotonic clock, whatever happens to the wall clock', () => {
    const hand = new HandCase().begin('cut').pass(4);
    hand.clock.shiftWall(-90 * MIN);
    hand.finish('cut').pass(6).close();
    const axis = new CaseAxis(hand.entries);
    expect(hand.entries.map((entry) => axis.positionOf(entry))).toEqual([0, 0, 4 * MIN, 10 * MIN]);
    expect(axis.endMs).toBe(10 * MIN);
  });

  test('[REV8] bridges a restart by the wall clock', () => {
    const hand = new HandCase()
      .begin('cut')
      .pass(4)
      .finish('cut')
      .pass(3)
      .restart()
      .pass(2)
      .close();
    const axis = new CaseAxis(hand.entries);
    expect(axis.positionOf(hand.now)).toBe(9 * MIN);
    expect(axis.wallAt(9 * MIN)).toBe(hand.clock.wallMs());
  });

  test('[REV8] a stamp of another window is placed by the wall clock', () => {
    const hand = new HandCase().pass(4).begin('cut');
    const axis = new CaseAxis(hand.entries);
    const elsewhere = { ...hand.now, at: hand.now.at + 2 * MIN, mono: 5, run: 'other' as never };
    expect(axis.positionOf(elsewhere)).toBe(6 * MIN);
  });
});

describe('the timeline', () => {
  test('[REV9] has every track, phase, step, held clock and mark at its place', () => {
    const hand = new HandCase().begin('cut').pass(2);
    hand.add({ type: 'clock.held', data: { reason: 'Imaging' } }).pass(3);
    hand.add({ type: 'clock.resumed', data: {} }).finish('cut').begin('press', 'table').pass(1);
    hand.add({ type: 'milestone.reached', data: { milestone: 'PST' } }).close();
    const timeline = makeTimeline(hand.entries, OUTLINE, hand.now);
    expect(timeline.endMs).toBe(6 * MIN);
    expect(timeline.clockHolds).toEqual([{ reason: 'Imaging', fromMs: 2 * MIN, toMs: 5 * MIN }]);
    expect(timeline.lanes).toMatchObject([
      {
        track: 'field',
        phases: [{ title: 'Opening', fromMs: 0, toMs: 5 * MIN }],
        steps: [{ title: 'Step cut', round: 1, fromMs: 0, toMs: 5 * MIN }],
      },
      { track: 'table', steps: [{ title: 'Step press', fromMs: 5 * MIN, toMs: 6 * MIN }] },
    ]);
    expect(timeline.marks).toMatchObject([{ kind: 'milestone', text: 'PST', atMs: 6 * MIN }]);
  });

  test('[REV9] marks each read-back where it was answered, with what became of it', async () => {
    const { session, say } = await openSampleCase();
    await say('+240', 'step done', '+120', 'step done', '+60', 'pin placed', '+3', 'confirm');
    await say('+40', 'wedge two four', '+3', 'correct one six', '+12');
    // What falls due at a moment is carried out before the clock moves on.
    for (let turn = 0; turn < 60; turn += 1) await Promise.resolve();
    await say('+48');
    await say('wedge one six', '+5', 'confirm');
    const { entries, view } = session;
    const last = entries.at(-1);
    if (!last) throw new Error('The case has entries');
    const { marks } = makeTimeline(entries, view.outline, last);
    // The read-back of the sample case lapses after 12 s.
    const from = 463;
    expect(marks.map(({ kind, size, atMs }) => [kind, size?.value, atMs / 1000])).toEqual([
      ['confirmed', 'reported', 423],
      ['corrected', 24, from + 3],
      ['lapsed', 16, from + 3 + 12],
      ['confirmed', 16, from + 3 + 60 + 5],
    ]);
    const lines = caseTimesToCsv(entries, view.outline, last).split('\r\n');
    expect(lines.filter((line) => line.includes('Wedge: '))).toHaveLength(3);
    expect(markToText(marks[1] as never, String, listCaptures(setupOf(entries)))).toBe('Wedge 24°');
  });

  test('[REV10] puts at most ten ticks or so on round local times', () => {
    const hand = new HandCase(Date.UTC(2026, 2, 4, 13, 27)).begin('cut').pass(46).close();
    const ticks = (offsetMin: number) =>
      makeTimeline(hand.entries, OUTLINE, hand.now, offsetMin).ticks;
    expect(ticks(0).map(({ atMs }) => atMs / MIN)).toEqual([3, 8, 13, 18, 23, 28, 33, 38, 43]);
    // Kathmandu is 5 h 45 min ahead; its round times fall on other minutes only for long cases.
    const long = new HandCase(Date.UTC(2026, 2, 4, 13, 27)).begin('cut').pass(400).close();
    const local = makeTimeline(long.entries, OUTLINE, long.now, 345).ticks;
    expect(local.every(({ wallMs }) => (wallMs / MIN + 345) % 60 === 0)).toBe(true);
    expect(local.length).toBeGreaterThan(4);
    expect(local.length).toBeLessThan(12);
  });
});
