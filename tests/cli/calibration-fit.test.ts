/** The fit of the score, and the measures of how right it is. */
import { describe, expect, it } from 'vitest';
import { fitLogistic, fitRising } from '../bench/held-out/logistic';
import { measureReliability } from '../bench/held-out/reliability';
import { createRandom } from '../bench/noise-mix';

/** Outcomes of known odds: bias first, then one weight for each feature, features from -1 to 1. */
function draw(count: number, weights: readonly number[], seed: number) {
  const random = createRandom(seed);
  const rows = Array.from({ length: count }, () => weights.slice(1).map(() => random()));
  const isRight = rows.map((row) => {
    const logOdds = row.reduce((sum, x, at) => sum + x * (weights[at + 1] ?? 0), weights[0] ?? 0);
    return (random() + 1) / 2 < 1 / (1 + Math.exp(-logOdds));
  });
  return { rows, isRight };
}

/**
 * A common textbook example, from memory: hours of study of twenty students, and whether each
 * passed. Maximum likelihood: intercept -4.0777 (standard error 1.7610), slope 1.5046 (0.6287).
 */
const HOURS = [
  0.5, 0.75, 1, 1.25, 1.5, 1.75, 1.75, 2, 2.25, 2.5, 2.75, 3, 3.25, 3.5, 4, 4.25, 4.5, 4.75, 5, 5.5,
];
const PASSED = '00000010101010111111';

describe('the fit of the score', () => {
  it('[TOO22] gives back known odds, as near as the standard error says', () => {
    const known = [-1, 2, 0.5, 0];
    const { rows, isRight } = draw(4_000, known, 11);
    const { weights, standardErrors } = fitLogistic(rows, isRight);
    known.forEach((weight, at) => {
      const error = standardErrors[at] ?? 0;
      // Four standard errors: beyond them by chance once in 16,000 (normal distribution).
      expect(Math.abs((weights[at] ?? Infinity) - weight)).toBeLessThan(4 * error);
      // With so many rows an error of a tenth and more would be a fault of its own.
      expect(error).toBeLessThan(0.1);
    });
  });

  it('[TOO22] agrees with a textbook example, errors included', () => {
    const fit = fitLogistic(
      HOURS.map((hours) => [hours]),
      [...PASSED].map((passed) => passed === '1'),
    );
    expect(fit.weights[0]).toBeCloseTo(-4.0777, 4);
    expect(fit.weights[1]).toBeCloseTo(1.5046, 4);
    expect(fit.standardErrors[0]).toBeCloseTo(1.761, 3);
    expect(fit.standardErrors[1]).toBeCloseTo(0.6287, 3);
  });

  it('[TOO22] leaves out what would count against a phrase, and fits the rest as if it were not there', () => {
    const { rows, isRight } = draw(2_000, [0, 1, -1.5], 5);
    const without = fitLogistic(
      rows.map(([first = 0]) => [first]),
      isRight,
    );
    const { weights } = fitRising(rows, isRight);
    expect(weights).toEqual([...without.weights, 0]);
  });

  it('[TOO22] finds an end where right and wrong are parted perfectly, with a prior', () => {
    const rows = [[-2], [-1], [1], [2]];
    const { weights } = fitLogistic(rows, [false, false, true, true], 0.05);
    expect(weights.every(Number.isFinite)).toBe(true);
    expect(weights[0]).toBeCloseTo(0, 9);
    expect(weights[1]).toBeGreaterThan(1);
  });

  it('[TOO22] measures promises against what came of them', () => {
    const measured = measureReliability([
      { score: 0.9, isRight: true },
      { score: 0.9, isRight: true },
      { score: 0.9, isRight: false },
      { score: 0.2, isRight: false },
    ]);
    // By hand, from the definitions: Brier (0.01 + 0.01 + 0.81 + 0.04) / 4, log loss
    // (2 ln(1/0.9) + ln(1/0.1) + ln(1/0.8)) / 4, expected error (3 x 0.2333 + 0.2) / 4.
    expect(measured).toMatchObject({
      count: 4,
      brier: 0.2175,
      logLoss: 0.6841,
      expectedError: 0.225,
    });
    expect(measured?.bins).toMatchObject([
      { from: 0.2, promised: 0.2, right: { count: 0, of: 1 } },
      { from: 0.9, promised: 0.9, right: { count: 2, of: 3 } },
    ]);
    // A promise of a half for two even chances: a quarter.
    expect(measured?.brierOfMean).toBe(0.25);
    expect(measureReliability([])).toBeNull();
  });
});
