/** Self-starting scores: an independent library's distributions, and a published run length without knowing centre or spread. */
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import studentCdf from '@stdlib/stats-base-dists-t-cdf';
import { expect, test } from 'vitest';
import { chartCusum } from '../../../src/review/statistics/cusum';
import { createRandom } from '../../../src/review/statistics/random';
import { standardiseAgainstEarlier } from '../../../src/review/statistics/self-starting';

test('[REV81] each score is Hawkins’s: the normal deviate of Student’s distribution, of all before it', () => {
  // NIST/SEMATECH e-Handbook 6.3.2.2, flow rate.
  const flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
  const scores = standardiseAgainstEarlier(flow, 3);
  expect(scores.slice(0, 3)).toEqual([null, null, null]);
  for (let n = 3; n < flow.length; n += 1) {
    const before = flow.slice(0, n);
    const mean = before.reduce((sum, value) => sum + value, 0) / n;
    const spread = Math.sqrt(before.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
    // Hawkins 1987 (The Statistician 36:299), from memory: U = Φ⁻¹(F(√((n−1)/n) (x − mean)/s)), F Student's with n − 2 degrees of freedom, n counting the new value.
    const t = (Math.sqrt(n / (n + 1)) * ((flow[n] ?? NaN) - mean)) / spread;
    expect(scores[n]).toBeCloseTo(normalQuantile(studentCdf(t, n - 1), 0, 1), 8);
  }
});

test('[REV81] values far off and values all alike give numbers', () => {
  const far = standardiseAgainstEarlier(
    [...Array.from({ length: 50 }, (_, i) => i % 3), 1e9, -1e9],
    2,
  );
  expect(far.slice(-2).every((score) => score !== null && Number.isFinite(score))).toBe(true);
  expect(far.at(-2)).toBeGreaterThan(5);
  expect(standardiseAgainstEarlier([7, 7, 7, 7], 2)).toEqual([null, null, 0, 0]);
});

test('[REV81] a CUSUM of the scores of series of unknown centre and spread has the published run length', () => {
  // Lucas & Crosier 1982, Table 1: two-sided, k 0.5, h 4, no shift: one signal in 168 values.
  const [k, h, published] = [0.5, 4, 168];
  const random = createRandom(81);
  const [howMany, length] = [400, 400];
  let signals = 0;
  for (let series = 0; series < howMany; series += 1) {
    const centre = 100 * random.normal();
    const spread = Math.exp(random.normal());
    const values = Array.from({ length }, () => centre + spread * random.normal());
    const scores = standardiseAgainstEarlier(values, 2).map((score) => score ?? 0);
    signals += chartCusum(scores, { target: 0, k, h, restarts: true }).signals.length;
  }
  // About 950 signals: the standard error of the run length is about three in a hundred.
  expect(Math.abs((howMany * length) / signals - published)).toBeLessThan(0.1 * published);
});
