/** The learning curve: an exact curve is found again, noise makes no claim, and the interval holds what it promises. */
import stdlibStudentQuantile from '@stdlib/stats-base-dists-t-quantile';
import { describe, expect, test } from 'vitest';
import { fitLearning, fitLine } from '../../../src/review/statistics/learning-curve';
import { createRandom } from '../../../src/review/statistics/random';

describe('the learning curve', () => {
  test('[REV33] finds an exact power law again: an 80 % curve', () => {
    const slope = Math.log2(0.8);
    const curve = fitLearning(
      Array.from({ length: 30 }, (_, index) => ({
        number: index + 1,
        time: 100 * (index + 1) ** slope,
      })),
    );
    expect(curve?.first).toBeCloseTo(100, 9);
    expect(curve?.perDoubling).toBeCloseTo(0.8, 9);
    expect(curve?.at(16).fit).toBeCloseTo(100 * 0.8 ** 4, 9);
    expect(curve?.isClear).toBe(true);
  });

  test('[REV33] a line and its uncertainty are those of the Norris data’s certified values', () => {
    // NIST Statistical Reference Datasets, "Norris" (36 pairs): certified slope, intercept and residual deviation.
    const x = [
      0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5,
      666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2,
      999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
    ];
    const y = [
      0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1,
      668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0,
      998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
    ];
    const line = fitLine(x.map((value, index) => ({ x: value, y: y[index] ?? NaN })));
    expect(line?.slope).toBeCloseTo(1.00211681802045, 12);
    expect(line?.intercept).toBeCloseTo(-0.262323073774029, 10);
    expect(line?.sigma).toBeCloseTo(0.884796396144373, 11);
    const errorOfSlope = (line?.sigma ?? NaN) / Math.sqrt(line?.spreadX ?? NaN);
    expect(errorOfSlope).toBeCloseTo(0.429796848199937e-3, 12);
  });

  test('[REV33] the interval of the slope uses the t distribution', () => {
    const cases = [30, 28, 27, 29, 24, 26].map((time, index) => ({ number: index + 1, time }));
    const curve = fitLearning(cases);
    const line = fitLine(
      cases.map(({ number, time }) => ({ x: Math.log(number), y: Math.log(time) })),
    );
    if (!curve || !line) throw new Error('Six cases make a curve');
    const reach = (stdlibStudentQuantile(0.975, 4) * line.sigma) / Math.sqrt(line.spreadX);
    expect(curve.slopeHigh - curve.slope).toBeCloseTo(reach, 10);
  });

  test('[REV33] its 95 % interval holds the true slope in about 95 of 100 series', () => {
    const random = createRandom(33);
    let held = 0;
    let claims = 0;
    for (let series = 0; series < 400; series += 1) {
      const noisy = (slope: number) =>
        fitLearning(
          Array.from({ length: 25 }, (_, index) => ({
            number: index + 1,
            time: 90 * (index + 1) ** slope * Math.exp(0.2 * random.normal()),
          })),
        );
      const curve = noisy(-0.1);
      if (curve && curve.slopeLow < -0.1 && curve.slopeHigh > -0.1) held += 1;
      if (noisy(0)?.isClear) claims += 1;
    }
    // Binomial(400, 0.95): four standard deviations either side.
    expect(held).toBeGreaterThan(362);
    expect(held).toBeLessThan(398);
    expect(claims).toBeLessThan(38);
  });

  test('[REV33] makes no curve of too few or equal case numbers', () => {
    expect(fitLearning([{ number: 1, time: 10 }])).toBeNull();
    expect(fitLearning([1, 1, 1].map((number) => ({ number, time: 10 })))).toBeNull();
    expect(fitLearning([1, 2, 3].map((number) => ({ number, time: 0 })))).toBeNull();
  });
});
