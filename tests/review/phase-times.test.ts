/** Exact durations from entries made by hand. */
import { describe, expect, test } from 'vitest';
import { asId } from '../../src/domain';
import type { TrackId } from '../../src/domain';
import { foldTimes, tabulatePhases, tabulateSteps } from '../../src/review';
import type { PhaseRow } from '../../src/review';
import { HandCase, OUTLINE } from './hand-case';

const MIN = 60_000;

function rowsOf(hand: HandCase): readonly PhaseRow[] {
  return tabulatePhases(foldTimes(hand.entries, OUTLINE), OUTLINE, hand.now);
}

function twoTracks(wallMs?: number): HandCase {
  return new HandCase(wallMs)
    .begin('cut')
    .pass(4)
    .finish('cut')
    .begin('clear')
    .pass(2)
    .finish('clear')
    .pass(1)
    .begin('shape')
    .begin('press', 'table')
    .pass(3)
    .finish('press', 'table')
    .pass(2)
    .finish('shape')
    .close();
}

describe('phases', () => {
  test('[REV1] gives each phase its exact total, work and waiting, side by side', () => {
    const rows = rowsOf(twoTracks());
    expect(rows.map(({ title, totalMs, workMs, waitMs }) => [title, totalMs, workMs, waitMs])).toEqual([
      ['Opening', 6 * MIN, 6 * MIN, 0],
      ['Reaming', 5 * MIN, 5 * MIN, 0],
      ['Build', 3 * MIN, 3 * MIN, 0],
    ]); // prettier-ignore
    expect(rows[0]?.usualMs).toBe(6 * MIN);
    expect(rows[1]?.usualMs).toBeNull();
    expect(rows.every(({ isEstimated }) => !isEstimated)).toBe(true);
  });

  test('[REV1] counts the time between two steps of a phase as waiting', () => {
    const hand = new HandCase().begin('cut').pass(4).finish('cut').pass(3).begin('clear').pass(2);
    const [row] = rowsOf(hand);
    expect(row).toMatchObject({ totalMs: 9 * MIN, workMs: 6 * MIN, waitMs: 3 * MIN, to: null });
  });

  test('[REV2] takes midnight and the wrong date in its stride', () => {
    const beforeMidnight = new Date(2026, 2, 4, 23, 58).getTime();
    const durations = (rows: readonly PhaseRow[]) => rows.map(({ totalMs }) => totalMs);
    expect(durations(rowsOf(twoTracks(beforeMidnight)))).toEqual(durations(rowsOf(twoTracks())));
  });

  test('[REV3] across a restart takes the wall clock and says so', () => {
    const hand = new HandCase().begin('cut').pass(4).restart().pass(2).finish('cut').begin('clear');
    hand.pass(1).finish('clear').begin('shape').pass(5).close();
    const [opening, reaming] = rowsOf(hand);
    expect(opening).toMatchObject({ totalMs: 7 * MIN, isEstimated: true });
    expect(reaming).toMatchObject({ totalMs: 5 * MIN, isEstimated: false });
    const steps = tabulateSteps(foldTimes(hand.entries, OUTLINE), OUTLINE, hand.now);
    expect(steps.map(({ step, isEstimated }) => [step, isEstimated])).toEqual([
      ['cut', true],
      ['clear', false],
      ['shape', false],
    ]);
  });

  test('[REV4] counts rounds of a loop, and marks where it went back', () => {
    const hand = new HandCase()
      .begin('shape')
      .pass(2)
      .finish('shape')
      .begin('try')
      .pass(1)
      .finish('try');
    hand.add({
      type: 'loop.repeated',
      data: { loop: asId('again'), from: asId('try'), to: asId('shape') },
    });
    hand.begin('shape').pass(3).finish('shape').begin('try').pass(1).finish('try').close(); // prettier-ignore
    const times = foldTimes(hand.entries, OUTLINE);
    expect(rowsOf(hand)[0]).toMatchObject({ repeats: 2, totalMs: 7 * MIN, workMs: 7 * MIN });
    expect(times.marks).toMatchObject([{ kind: 'loop', text: 'Step shape' }]);
    const steps = tabulateSteps(times, OUTLINE, hand.now);
    expect(steps).toMatchObject([
      { step: 'shape', rounds: 2, workMs: 5 * MIN },
      { step: 'try', rounds: 2, workMs: 2 * MIN },
    ]);
  });

  test('[REV5] gives a held clock to the phases that ran, for as long as they ran', () => {
    const hand = new HandCase().begin('cut').pass(1);
    hand.add({ type: 'clock.held', data: { reason: 'Imaging' } }).pass(3);
    hand.begin('press', 'table').pass(2).add({ type: 'clock.resumed', data: {} }).pass(1).close();
    const rows = rowsOf(hand);
    expect(rows.map(({ title, clockHeldMs }) => [title, clockHeldMs])).toEqual([
      ['Opening', 5 * MIN],
      ['Build', 2 * MIN],
    ]);
  });

  test.each([
    ['back', -3],
    ['on', 3],
  ])('[REV6] a wall clock put %s by hours changes no duration', (_, hours) => {
    const hand = new HandCase().begin('cut').pass(4);
    hand.clock.shiftWall(hours * 60 * MIN);
    hand.add({ type: 'clock.held', data: { reason: 'Imaging' } }).pass(2);
    hand.add({ type: 'clock.resumed', data: {} }).finish('cut').begin('clear').pass(1).close();
    expect(rowsOf(hand)[0]).toMatchObject({
      totalMs: 7 * MIN,
      workMs: 7 * MIN,
      clockHeldMs: 2 * MIN,
      isEstimated: false,
    });
  });

  test('[REV7] says how a step ended: left out, held again, open at the end', () => {
    const hand = new HandCase().begin('cut').pass(1);
    const at = { track: asId<TrackId>('field') };
    hand.add({ type: 'step.skipped', data: { ...at, step: asId('cut'), reason: 'Done before' } });
    hand.begin('clear').pass(1);
    hand.add({ type: 'step.held', data: { ...at, step: asId('clear'), holdPoint: asId('gate') } });
    hand.begin('press', 'table').pass(1).close();
    const times = foldTimes(hand.entries, OUTLINE);
    expect(times.steps.map(({ ending }) => ending)).toEqual(['skipped', 'held', 'closed']);
    expect(times.marks).toMatchObject([
      { kind: 'skip', text: 'Step cut: Done before' },
      { kind: 'held', holdPoint: 'gate' },
    ]);
  });
});
