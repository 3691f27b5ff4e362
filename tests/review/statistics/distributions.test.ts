/** Distributions and percentiles against @stdlib, an implementation of its own, and against printed values. */
import stdlibBinomialQuantile from '@stdlib/stats-base-dists-binomial-quantile';
import stdlibNormalCdf from '@stdlib/stats-base-dists-normal-cdf';
import stdlibNormalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import stdlibStudentCdf from '@stdlib/stats-base-dists-t-cdf';
import stdlibStudentQuantile from '@stdlib/stats-base-dists-t-quantile';
import { describe, expect, test } from 'vitest';
import {
  normalCdf,
  normalQuantile,
  normalUpperQuantile,
  normalUpperTail,
} from '../../../src/review/statistics/normal';
import { percentile, sortUp, summarise } from '../../../src/review/statistics/percentile';
import { limitOfCrossings } from '../../../src/review/statistics/run-chart';
import { studentCdf, studentQuantile } from '../../../src/review/statistics/student';
import { THICKNESS } from './published-series';

/** Equal to a relative precision, also where both are tiny. */
function expectClose(actual: number, expected: number, relative: number): void {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(relative * Math.abs(expected) + 1e-300);
}

describe('the normal distribution', () => {
  test('[REV22] agrees with @stdlib from −8 to 8, also far out in the tail', () => {
    for (let x = -8; x <= 8; x += 0.0625) {
      expectClose(normalCdf(x), stdlibNormalCdf(x, 0, 1), 2e-12);
      expectClose(normalUpperTail(x), stdlibNormalCdf(-x, 0, 1), 2e-12);
    }
  });

  test('[REV22] its quantiles agree with @stdlib, and go back to the share they came from', () => {
    for (const p of [1e-6, 1e-4, 0.01, 0.025, 0.05, 0.0749, 0.0751, 0.1, 0.3, 0.49]) {
      expectClose(normalQuantile(p), stdlibNormalQuantile(p, 0, 1), 1e-10);
      expectClose(normalUpperQuantile(p), -stdlibNormalQuantile(p, 0, 1), 1e-10);
    }
    // Further out @stdlib's quantile loses digits, but its distribution function does not.
    for (const p of [1e-15, 1e-12, 1e-9]) {
      expectClose(stdlibNormalCdf(normalQuantile(p), 0, 1), p, 1e-11);
    }
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalQuantile(0)).toBe(-Infinity);
    expect(normalQuantile(1)).toBe(Infinity);
    // 1.959964 is the 97.5 % point of every printed table.
    expect(normalQuantile(0.975)).toBeCloseTo(1.959964, 6);
  });
});

describe('Student’s t', () => {
  test('[REV22] agrees with @stdlib from 1 to 500 degrees of freedom', () => {
    for (const freedom of [1, 2, 3, 5, 8.5, 9, 30, 120, 500]) {
      for (const t of [-6, -2.5, -0.3, 0, 0.1, 1, 2, 4, 12]) {
        expectClose(studentCdf(t, freedom), stdlibStudentCdf(t, freedom), 1e-9);
      }
      for (const p of [0.001, 0.05, 0.1, 0.4, 0.6, 0.8, 0.9, 0.975, 0.999]) {
        expectClose(studentQuantile(p, freedom), stdlibStudentQuantile(p, freedom), 1e-9);
      }
    }
  });

  test('[REV22] gives the printed points', () => {
    expect(studentQuantile(0.9, 11)).toBeCloseTo(1.3634, 4);
    expect(studentQuantile(0.9, 1)).toBeCloseTo(3.0777, 4);
    expect(studentQuantile(0.8, 9)).toBeCloseTo(0.883404, 6);
    expect(studentQuantile(0.9, 9)).toBeCloseTo(1.383029, 6);
    expect(studentQuantile(0.5, 4)).toBe(0);
  });
});

test('[REV22] the binomial limit of crossings agrees with @stdlib from 2 to 600 values', () => {
  for (let n = 2; n <= 600; n += 1) {
    expect(limitOfCrossings(n), `n = ${n}`).toBe(
      // It gives −0 where it means 0.
      stdlibBinomialQuantile(0.05, n - 1, 0.5) + 0,
    );
  }
});

describe('percentiles', () => {
  // Published by NIST for R6 at 90 %: 95.1981. R7 and R8 computed from Hyndman & Fan 1996.
  const table = [
    [0.1, 95.07045, 95.0939, 95.07885],
    [0.25, 95.10975, 95.11625, 95.11192],
    [0.5, 95.1579, 95.1579, 95.1579],
    [0.75, 95.18958, 95.18132, 95.18682],
    [0.9, 95.19807, 95.19568, 95.19724],
    [0.95, 95.199, 95.1973, 95.199],
  ] as const;

  test.each(table)('[REV23] at %f, by three named definitions', (p, r6, r7, r8) => {
    const sorted = sortUp(THICKNESS);
    expect(Math.abs(percentile(sorted, p, 'R6') - r6)).toBeLessThan(6e-6);
    expect(Math.abs(percentile(sorted, p, 'R7') - r7)).toBeLessThan(6e-6);
    expect(Math.abs(percentile(sorted, p, 'R8') - r8)).toBeLessThan(6e-6);
    expect(percentile(sorted, p)).toBe(percentile(sorted, p, 'R6'));
  });

  test('[REV23] R6 at 90 % is the value that NIST prints', () => {
    expect(percentile(sortUp(THICKNESS), 0.9)).toBeCloseTo(95.1981, 4);
  });

  test('[REV23] one value is every percentile of itself; none gives no summary', () => {
    for (const definition of ['R6', 'R7', 'R8'] as const) {
      expect(percentile([7], 0.1, definition)).toBe(7);
      expect(percentile([7], 0.9, definition)).toBe(7);
      expect(percentile([], 0.5, definition)).toBeNaN();
    }
    expect(summarise([])).toBeNull();
  });

  test('[REV23] a summary has count, range, quartiles and spread', () => {
    const summary = summarise(THICKNESS);
    expect(summary).toMatchObject({ count: 12, least: 95.061, most: 95.199 });
    expect(summary?.median).toBeCloseTo(95.1579, 5);
    expect(summary?.spread).toBeCloseTo(95.18958 - 95.10975, 4);
    expect(summary?.mean).toBeCloseTo(THICKNESS.reduce((sum, value) => sum + value, 0) / 12, 9);
  });
});
