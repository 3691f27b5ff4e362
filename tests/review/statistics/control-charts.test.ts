/** Control charts against the series and limits that handbooks print. */
import stdlibNormalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { describe, expect, test } from 'vitest';
import { chartCusum } from '../../../src/review/statistics/cusum';
import { chartEwma } from '../../../src/review/statistics/ewma';
import {
  chanceOutside,
  chanceRangeBeyond,
  chartIndividuals,
  D2,
  D4,
} from '../../../src/review/statistics/individuals';
import { createRandom } from '../../../src/review/statistics/random';
import { averageRunLength, limitForRunLength } from '../../../src/review/statistics/run-length';
import { CONCENTRATION, CUSUM_MEANS, FLOW_RATE, JETS } from './published-series';

describe('individuals and moving ranges', () => {
  test('[REV24] constants are those of the printed tables', () => {
    expect(D2).toBeCloseTo(1.128379, 6);
    expect(3 / D2).toBeCloseTo(2.65868, 5);
    expect(D4).toBeCloseTo(3.266532, 6);
  });

  test('[REV24] NIST flow rate, with NIST’s rounded 1.128', () => {
    const chart = chartIndividuals(FLOW_RATE, FLOW_RATE.length, 1.128);
    expect(chart.mean).toBeCloseTo(50.81, 10);
    expect(chart.meanRange).toBeCloseTo(16.9 / 9, 10);
    expect(chart.sigma).toBeCloseTo(1.6647, 5);
    expect(Math.abs(chart.upper - 55.8041)).toBeLessThan(5e-5);
    expect(Math.abs(chart.lower - 45.8159)).toBeLessThan(5e-5);
    // NIST's shortcut 2.66 is rounded further.
    expect(Math.abs(chart.upper - 55.8049)).toBeLessThan(1e-3);
    expect(Math.abs(chart.lower - 45.8151)).toBeLessThan(1e-3);
    // 3.267 in the table, 3.26653 here.
    expect(Math.abs(chart.rangeUpper - 6.1347)).toBeLessThan(1e-3);
    expect(chart.ranges.map((range) => Number(range.toFixed(1)))).toEqual([
      2.0, 2.3, 1.4, 3.5, 3.4, 1.4, 0.2, 1.2, 1.5,
    ]);
    expect(chart.outside).toEqual([]);
  });

  test('[REV24] Montgomery’s concentration', () => {
    const chart = chartIndividuals(CONCENTRATION);
    expect(chart.mean).toBeCloseTo(99.095, 10);
    expect(chart.meanRange).toBeCloseTo(2.58947, 5);
    expect(Math.abs(chart.upper - 105.982)).toBeLessThan(3e-3);
    expect(Math.abs(chart.lower - 92.208)).toBeLessThan(3e-3);
    expect(Math.abs(chart.rangeUpper - 8.4598)).toBeLessThan(2e-3);
  });

  test('[REV24] the jets of the SAS documentation', () => {
    const chart = chartIndividuals(JETS);
    expect(chart.mean).toBeCloseTo(80.39, 10);
    expect(chart.meanRange).toBeCloseTo(5.32632, 5);
    expect(chart.upper).toBeCloseTo(94.551, 4);
    expect(chart.lower).toBeCloseTo(66.229, 4);
  });

  test('[REV24] limits come from the baseline alone, and a later value beyond them is named', () => {
    const chart = chartIndividuals([...FLOW_RATE, 70], FLOW_RATE.length);
    expect(chart.mean).toBeCloseTo(50.81, 10);
    expect(chart.outside).toEqual([10]);
  });
});

describe('what chance puts beyond limits', () => {
  test('[REV24] with endless cases 1 in 370 values, by the normal distribution', () => {
    // Montgomery, Introduction to Statistical Quality Control: three-sigma limits run 370 values (from memory).
    expect(1 / chanceOutside(1e6)).toBeCloseTo(370.4, 0);
  });

  test.each([15, 30, 60])(
    '[REV24] with limits from %i cases as often as in steady series drawn by chance',
    (baseline) => {
      const random = createRandom(baseline);
      const runs = 20_000;
      let values = 0;
      let ranges = 0;
      for (let run = 0; run < runs; run += 1) {
        const { upper, lower, rangeUpper } = chartIndividuals(Array.from({ length: baseline }, () => random.normal())); // prettier-ignore
        // What lies beyond these limits, by @stdlib: the difference of two values spreads √2 as far.
        values += stdlibNormalCdf(lower, 0, 1) + stdlibNormalCdf(-upper, 0, 1);
        ranges += 2 * stdlibNormalCdf(-rangeUpper, 0, Math.SQRT2);
      }
      // The standard error of so many baselines is 1 to 2 in 100; it is told with two digits.
      expect(Math.abs(values / runs / chanceOutside(baseline) - 1)).toBeLessThan(0.1);
      expect(Math.abs(ranges / runs / chanceRangeBeyond(baseline) - 1)).toBeLessThan(0.1);
    },
  );
});

describe('CUSUM', () => {
  const design = { target: 325, k: 0.3175, h: 4.1959 };
  // NIST/SEMATECH e-Handbook 6.3.2.3, printed to two places.
  const high = [
    0, 0, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.0, 19.04,
  ];
  const low = [0, 0.01, 0, 0.33, 0, 0, 0.56, 0.72, 0.17, 0.25, 0.31, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  const plain = [
    -0.075, -0.4, -0.675, -1.325, -0.975, -0.75, -1.625, -2.1, -1.875, -2.275, -2.65, -2.5, 0.825,
    3.075, 5.9, 9.4, 11.075, 13.85, 15.725, 19.075,
  ];

  test('[REV25] NIST’s whole table, first signal at the 14th', () => {
    const chart = chartCusum(CUSUM_MEANS, design);
    for (const [place] of CUSUM_MEANS.entries()) {
      expect(Math.abs((chart.high[place] ?? NaN) - (high[place] ?? NaN))).toBeLessThan(0.006);
      expect(Math.abs((chart.low[place] ?? NaN) - (low[place] ?? NaN))).toBeLessThan(0.006);
      expect(chart.plain[place]).toBeCloseTo(plain[place] ?? NaN, 6);
    }
    expect(chart.high[13]).toBeCloseTo(4.94, 4);
    expect(chart.signals.map(({ place }) => place)).toEqual([13, 14, 15, 16, 17, 18, 19]);
    expect(chart.signals[0]).toEqual({ place: 13, side: 'high' });
  });

  test('[REV25] plain sums of Montgomery’s concentration around 99', () => {
    const { plain: sums } = chartCusum(CONCENTRATION, { target: 99, k: 0.5, h: 5 });
    expect(sums.map((sum) => Number(sum.toFixed(1)) + 0)).toEqual([
      3.0, -1.2, -1.9, -2.5, 0.5, 0.0, 0.0, -1.3, -0.3, -1.2, 1.1, 0.8, 2.9, 2.3, 0.3, -2.0, -0.7,
      1.7, -0.1, 1.9,
    ]);
  });

  test('[REV25] head start after Lucas & Crosier 1982: signal at the 3rd instead of the 7th', () => {
    const values = [0.8, 1.9, 1.4, 2.0, 1.1, 0.7, 2.6];
    const plainStart = chartCusum(values, { target: 0, k: 0.5, h: 5 });
    expect(plainStart.high.map((sum) => Number(sum.toFixed(1)))).toEqual([
      0.3, 1.7, 2.6, 4.1, 4.7, 4.9, 7.0,
    ]);
    expect(plainStart.signals[0]?.place).toBe(6);
    const head = chartCusum(values, { target: 0, k: 0.5, h: 5, start: 2.5 });
    expect(head.high.map((sum) => Number(sum.toFixed(1)))).toEqual([
      2.8, 4.2, 5.1, 6.6, 7.2, 7.4, 9.5,
    ]);
    expect(head.signals[0]?.place).toBe(2);
  });

  test('[REV25] starts again after a signal where asked to', () => {
    const { high: sums } = chartCusum([3, 3, 3], { target: 0, k: 0.5, h: 4, restarts: true });
    expect(sums).toEqual([2.5, 5, 2.5]);
  });

  // Lucas & Crosier 1982, table 1, as quoted in the documentation of the R package "spc".
  test.each([
    [0, 168],
    [0.25, 74.2],
    [0.5, 26.6],
    [0.75, 13.3],
    [1, 8.38],
    [1.5, 4.75],
    [2, 3.34],
    [3, 2.19],
  ])('[REV26] average run length with k 0.5, h 4 at a shift of %f', (shift, published) => {
    expect(Math.abs(averageRunLength(0.5, 4, shift) / published - 1)).toBeLessThan(0.006);
  });

  test('[REV26] from a published run length back to its limit, by Siegmund’s approximation', () => {
    // Lucas & Crosier 1982, table 1: two-sided, k 0.5, h 4 runs 168 cases; h 5 runs 465.
    expect(limitForRunLength(0.5, 168)).toBeCloseTo(4, 1);
    expect(limitForRunLength(0.5, 465)).toBeCloseTo(5, 1);
  });

  test('[REV26] average run length with k 0.5, h 5, and of the chart itself', () => {
    expect(averageRunLength(0.5, 5)).toBeCloseTo(465, -1);
    expect(averageRunLength(0.5, 5, 1)).toBeCloseTo(10.38, 1);
    const random = createRandom(1);
    const runs = 1500;
    let cases = 0;
    for (let run = 0; run < runs; run += 1) {
      // A shift of one sigma is found long before the 80th case.
      const values = Array.from({ length: 80 }, () => random.normal() + 1);
      const [signal] = chartCusum(values, { target: 0, k: 0.5, h: 4 }).signals;
      cases += (signal?.place ?? 80) + 1;
    }
    // Four standard errors of 1500 runs.
    expect(Math.abs(cases / runs - 8.38)).toBeLessThan(0.6);
  });
});

describe('EWMA', () => {
  test('[REV27] NIST’s example: points and limits', () => {
    // NIST/SEMATECH e-Handbook 6.3.2.4: lambda 0.3, start 50, s 2.0539.
    const values = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, ...FLOW_RATE];
    const chart = chartEwma(values, { start: 50, sigma: 2.0539 });
    const printed = [
      50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52,
      50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
    ];
    for (const [place, point] of printed.entries()) {
      expect(Math.abs((chart.points[place] ?? NaN) - point)).toBeLessThan(0.0051);
    }
    expect(chart.upper).toBeCloseTo(52.5884, 3);
    expect(chart.lower).toBeCloseTo(47.41157, 3);
    expect(chart.outside).toEqual([]);
  });

  test('[REV27] a point beyond a limit is named', () => {
    const chart = chartEwma([50, 50, 60, 60, 60], { start: 50, sigma: 2 });
    expect(chart.outside).toEqual([2, 3, 4]);
  });
});
