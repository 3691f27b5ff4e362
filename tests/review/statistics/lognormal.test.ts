/** Lognormal durations: printed tables, published bounds, and an independent quantile. */
import stdlibLognormalQuantile from '@stdlib/stats-base-dists-lognormal-quantile';
import { describe, expect, test } from 'vitest';
import {
  boundFrom,
  fitMoments,
  lognormalDeviation,
  lognormalMean,
  lognormalQuantile,
  predictionBound,
  remainingMean,
  remainingQuantile,
  stillRunning,
} from '../../../src/review/statistics/lognormal';

/** Median 120 min, sigma 0.3: the worked example. */
const LAW = { mu: Math.log(120), sigma: 0.3 };

describe('lognormal durations', () => {
  test('[REV30] mean, deviation and quantiles of the worked example, and @stdlib’s', () => {
    expect(lognormalMean(LAW)).toBeCloseTo(125.523, 3);
    expect(lognormalDeviation(LAW)).toBeCloseTo(38.52, 3);
    for (const [p, time] of [
      [0.05, 73.262],
      [0.1, 81.698],
      [0.8, 154.467],
      [0.9, 176.259],
      [0.95, 196.556],
    ] as const) {
      expect(lognormalQuantile(LAW, p)).toBeCloseTo(time, 3);
      expect(lognormalQuantile(LAW, p)).toBeCloseTo(
        stdlibLognormalQuantile(p, LAW.mu, LAW.sigma),
        9,
      );
    }
  });

  // Computed from the formulas of remaining time for a lognormal duration.
  test.each([
    [60, 0.989569, 60.472, 66.273, 116.575],
    [90, 0.831206, 37.924, 45.304, 91.782],
    [120, 0.5, 26.913, 35.125, 76.556],
    [150, 0.228495, 22.219, 30.51, 68.534],
    [180, 0.08826, 20.114, 28.357, 64.531],
    [240, 0.010431, 18.749, 27.036, 62.113],
  ])('[REV31] what is left after %i min', (elapsed, alive, median, mean, ninetieth) => {
    expect(stillRunning(LAW, elapsed)).toBeCloseTo(alive, 6);
    expect(remainingQuantile(LAW, elapsed, 0.5)).toBeCloseTo(median, 3);
    expect(remainingMean(LAW, elapsed)).toBeCloseTo(mean, 3);
    expect(remainingQuantile(LAW, elapsed, 0.9)).toBeCloseTo(ninetieth, 3);
  });

  test('[REV31] is longer than median minus elapsed (Dexter et al. 2009), and sane at the ends', () => {
    // "once a case scheduled for 2 h has been ongoing 1.5 h, the median time remaining is not 0.5 h but longer"
    expect(remainingQuantile(LAW, 90, 0.5)).toBeGreaterThan(30);
    expect(remainingQuantile(LAW, 0, 0.5)).toBeCloseTo(120, 9);
    expect(remainingMean(LAW, 0)).toBeCloseTo(125.523, 3);
    // Ten hours into a two-hour case there is still something left, and it is a number.
    const left = remainingQuantile(LAW, 600, 0.5);
    expect(left).toBeGreaterThan(0);
    expect(Number.isFinite(left)).toBe(true);
    expect(Number.isFinite(remainingMean(LAW, 600))).toBe(true);
  });

  // Means and deviations as published: Padegimas et al. 2019 (PMID 30241986), a 2025 two-centre
  // study of operative duration, and PMID 31648783. The fits follow from the formulas.
  test.each([
    ['incision to closed', 110.0, 26.6, 106.92, 0.2384, 78.8, 145.1, 158.3],
    ['in to incision', 39.2, 8.0, 38.41, 0.202, 29.6, 49.8, 53.5],
    ['closed to out', 7.6, 3.8, 6.8, 0.4724, 3.7, 12.5, 14.8],
    ['reverse, operating room time', 150.5, 33.4, 146.93, 0.2193, 110.9, 194.6, 210.7],
    ['navigated', 77.3, 11.8, 76.41, 0.1518, 62.9, 92.8, 98.1],
  ] as const)('[REV30] moment fit of %s', (_, mean, deviation, median, sigma, p10, p90, p95) => {
    const law = fitMoments(mean, deviation);
    expect(Math.exp(law.mu)).toBeCloseTo(median, 1);
    expect(law.sigma).toBeCloseTo(sigma, 4);
    expect(Math.abs(lognormalQuantile(law, 0.1) - p10)).toBeLessThan(0.051);
    expect(Math.abs(lognormalQuantile(law, 0.9) - p90)).toBeLessThan(0.051);
    expect(Math.abs(lognormalQuantile(law, 0.95) - p95)).toBeLessThan(0.051);
    expect(lognormalMean(law)).toBeCloseTo(mean, 9);
    expect(lognormalDeviation(law)).toBeCloseTo(deviation, 9);
  });
});

describe('published means and deviations', () => {
  /** Points at which @stdlib's quantile is asked: the mean of so many is the law's to four digits. */
  const POINTS = 20_000;

  // Minutes as published: Padegimas et al. 2019 (PMID 30241986), both hospitals; PMID 31648783,
  // both groups; a 2025 two-centre study of operative duration, both operations; Stavrou 2014
  // (ISRN Surgery 431740), the five parts of a case.
  test.each([
    [39.2, 8.0], [110.0, 26.6], [7.6, 3.8],
    [46.3, 8.8], [113.4, 28.7], [11.2, 4.7],
    [77.3, 11.8], [78.5, 18.1],
    [150.5, 33.4], [183.5, 39.5],
    [19, 9], [13, 8], [115, 64], [12, 8], [12, 9],
  ])('[REV30] %f ± %f min comes back from the quantiles of its fit, as @stdlib has them', (mean, deviation) => {
    const { mu, sigma } = fitMoments(mean, deviation);
    const times = Array.from({ length: POINTS }, (_, place) => stdlibLognormalQuantile((place + 0.5) / POINTS, mu, sigma)); // prettier-ignore
    const found = times.reduce((sum, time) => sum + time, 0) / POINTS;
    const squares = times.reduce((sum, time) => sum + (time - found) ** 2, 0) / POINTS;
    expect(Math.abs(found / mean - 1)).toBeLessThan(0.001);
    // The far tail, which the points leave out, weighs a little more in the deviation.
    expect(Math.abs(Math.sqrt(squares) / deviation - 1)).toBeLessThan(0.01);
  }); // prettier-ignore
});

describe('the prediction bound', () => {
  // Zhou & Dexter 1998; two published points in Anesthesiology 1999;91:590. Their inputs are
  // rounded, so the bound must lie in the range that rounding allows.
  test('[REV32] n = 12, s 0.2, median 1.6 h: 90 % bound 2.2 h', () => {
    const bound = (median: number, sigma: number) =>
      boundFrom({ count: 12, mu: Math.log(median), sigma }, 0.9);
    expect(bound(1.6, 0.2)).toBeCloseTo(2.13, 2);
    expect(bound(1.55, 0.15)).toBeLessThan(2.2);
    expect(bound(1.65, 0.25)).toBeGreaterThan(2.2);
  });

  test('[REV32] n = 2, s 0.5, median 2.3 h: 90 % bound 13.8 h', () => {
    const bound = (median: number, sigma: number) =>
      boundFrom({ count: 2, mu: Math.log(median), sigma }, 0.9);
    expect(bound(2.3, 0.5)).toBeCloseTo(15.1, 1);
    expect(bound(2.25, 0.45)).toBeLessThan(13.8);
    expect(bound(2.35, 0.55)).toBeGreaterThan(13.8);
  });

  test('[REV32] a constructed sample of ten', () => {
    const times = [88, 95, 102, 110, 97, 120, 105, 92, 99, 130];
    expect(predictionBound(times, 0.8)).toBeCloseTo(115.324, 3);
    expect(predictionBound(times, 0.9)).toBeCloseTo(122.866, 3);
    expect(predictionBound(times, 0.5)).toBeCloseTo(103.103, 3);
  });
});
