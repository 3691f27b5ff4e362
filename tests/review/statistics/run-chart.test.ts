/** The Anhøj rules: limits from the published formulas, and three published series. */
import { describe, expect, test } from 'vitest';
import { splitAtChanges } from '../../../src/review/statistics/segments';
import { chartRuns, limitOfCrossings, limitOfRuns } from '../../../src/review/statistics/run-chart';
import { CONCENTRATION, CUSUM_MEANS, FLOW_RATE } from './published-series';

describe('the run chart', () => {
  // Anhøj & Olesen 2014, formulas as in the R package "qicharts2"; its own example is n = 24.
  test.each([
    [10, 6, 2],
    [11, 6, 2],
    [12, 7, 3],
    [14, 7, 4],
    [16, 7, 4],
    [17, 7, 5],
    [19, 7, 6],
    [20, 7, 6],
    [21, 7, 6],
    [22, 7, 7],
    [23, 8, 7],
    [24, 8, 8],
    [27, 8, 9],
    [30, 8, 10],
    [40, 8, 14],
    [46, 9, 17],
    [60, 9, 23],
    [100, 10, 41],
  ])('[REV28] limits at %i useful values: longest run %i, crossings %i', (n, run, crossings) => {
    expect(limitOfRuns(n)).toBe(run);
    expect(limitOfCrossings(n)).toBe(crossings);
  });

  test.each([
    ['NIST CUSUM means', CUSUM_MEANS, 325.225, 18, 8, 7, 3, 5, true],
    ['NIST flow rate', FLOW_RATE, 51.25, 10, 4, 6, 3, 2, false],
    ['Montgomery’s concentration', CONCENTRATION, 98.6, 20, 3, 7, 12, 6, false],
  ] as const)(
    '[REV28] %s',
    (_, values, median, useful, longestRun, runLimit, crossings, crossingsLimit, isSignal) => {
      const chart = chartRuns(values);
      expect(chart.median).toBeCloseTo(median, 6);
      expect(chart).toMatchObject({ useful, longestRun, crossings, crossingsLimit });
      expect(chart.longestRunLimit).toBe(runLimit);
      expect(chart.isLongRun || chart.isFewCrossings).toBe(isSignal);
    },
  );

  test('[REV28] says where the longest run lies', () => {
    const chart = chartRuns(CUSUM_MEANS);
    const run = CUSUM_MEANS.slice(chart.runFrom, chart.runTo + 1).filter(
      (value) => value !== chart.median,
    );
    expect(run).toHaveLength(8);
    expect(run.every((value) => value > chart.median)).toBe(true);
  });

  test('[REV28] values on the median count for nothing', () => {
    expect(chartRuns([1, 2, 2, 2, 3], 2)).toMatchObject({ useful: 2, longestRun: 1, crossings: 1 });
    expect(chartRuns([])).toMatchObject({ useful: 0, isLongRun: false, isFewCrossings: false });
  });
});

test('[REV29] a series is split where a change was marked, and each part stands alone', () => {
  const values = [1, 2, 3, 10, 11, 12].map((value, index) => ({ at: index * 100, value }));
  const parts = splitAtChanges(values, [
    { at: 300, label: 'new tray' },
    { at: 9999, label: 'nothing after it' },
  ]);
  expect(parts.map(({ label, from, values: part }) => [label, from, part.length])).toEqual([
    [null, 0, 3],
    ['new tray', 3, 3],
  ]);
  expect(parts.map(({ values: part }) => chartRuns(part.map(({ value }) => value)).median)).toEqual(
    [2, 11],
  );
});
