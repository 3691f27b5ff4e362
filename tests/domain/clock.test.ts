/** What a wall clock does in a hospital: set, set back, gone to sleep, over midnight, over the change of the hour. */
import { describe, expect, test } from 'vitest';
import { asId, elapsedBetween, listClockJumps } from '../../src/domain';
import type { RunId, Stamp } from '../../src/domain';

const MIN = 60_000;
const stamp = (at: number, mono: number, run = 'run-1'): Stamp => ({
  at,
  mono,
  run: asId<RunId>(run),
});

describe('durations', () => {
  const before = stamp(Date.UTC(2031, 2, 14, 12), 0);

  test.each([
    ['set back by an hour', -60 * MIN],
    ['set forward by a day', 1440 * MIN],
    ['left alone', 0],
  ])('[REC28] within a run are those of the monotonic clock: wall clock %s', (_, shiftMs) => {
    const after = stamp(before.at + 5 * MIN + shiftMs, 5 * MIN);
    expect(elapsedBetween(before, after)).toEqual({ ms: 5 * MIN, isEstimated: false });
  });

  test('[REC28] across runs are estimates of the wall clock, never below zero', () => {
    expect(elapsedBetween(before, stamp(before.at + 7 * MIN, 3, 'run-2'))).toEqual({
      ms: 7 * MIN,
      isEstimated: true,
    });
    expect(elapsedBetween(before, stamp(before.at - 7 * MIN, 3, 'run-2'))).toEqual({
      ms: 0,
      isEstimated: true,
    });
  });

  // Wall times are UTC milliseconds, so neither midnight nor summer time moves them. Berlin's clock
  // goes from 02:00 to 03:00 on 30 March 2031 at 01:00 UTC (Directive 2000/84/EC: last Sunday of March).
  test('[REC28] go over midnight and the change to summer time', () => {
    const late = stamp(Date.UTC(2031, 2, 29, 23, 30), 0);
    const early = stamp(Date.UTC(2031, 2, 30, 1, 30), 120 * MIN);
    expect(elapsedBetween(late, early).ms).toBe(120 * MIN);
    expect(listClockJumps([late, early])).toEqual([]);
  });
});

describe('jumps', () => {
  test('[REC28] are listed with their place and amount, and not across runs', () => {
    const at = Date.UTC(2031, 2, 14, 12);
    const stamps = [
      stamp(at, 0),
      stamp(at + MIN, MIN),
      stamp(at + 62 * MIN, 2 * MIN),
      stamp(at + 33 * MIN, 3 * MIN),
      stamp(at + 500 * MIN, 0, 'run-2'),
      stamp(at + 501 * MIN - 1_500, MIN, 'run-2'),
    ];
    expect(listClockJumps(stamps)).toEqual([
      { at: at + 62 * MIN, byMs: 60 * MIN },
      { at: at + 33 * MIN, byMs: -30 * MIN },
    ]);
  });
});
