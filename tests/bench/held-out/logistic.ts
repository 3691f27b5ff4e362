/**
 * Logistic regression by maximum likelihood: Newton's method on the log loss (iteratively
 * reweighted least squares; T. Hastie, R. Tibshirani, J. Friedman, The Elements of Statistical
 * Learning, 2nd ed., 4.4.1). Features are turned so that more of one is never less sure: one
 * whose weight comes out below 0 is left out, and the rest fitted again.
 */
import { inv, lusolve } from 'mathjs';

export interface Fit {
  /** Bias first, then one weight for each feature. */
  readonly weights: readonly number[];
  /** From the inverse of the Fisher information; 0 for a feature that was left out. */
  readonly standardErrors: readonly number[];
}

/**
 * Pulls every weight but the bias towards 0, as a normal prior with this precision does: for
 * features that part right from wrong perfectly there is no maximum without it.
 */
const NO_PRIOR = 0;
const MOST_STEPS = 100;
const SMALL_STEP = 1e-9;

export function fitLogistic(
  rows: readonly (readonly number[])[],
  isRight: readonly boolean[],
  precision = NO_PRIOR,
): Fit {
  const design = rows.map((row) => [1, ...row]);
  let weights = design[0]?.map(() => 0) ?? [];
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const { gradient, information } = slopeAt(weights, design, isRight, precision);
    const change = (lusolve(information, gradient) as number[][]).map(([x]) => x ?? 0);
    // Half of it, as often as it takes: far from the maximum a whole step may lead away.
    const before = lossAt(weights, design, isRight, precision);
    let size = 1;
    const moved = (): number[] => weights.map((w, index) => w + size * (change[index] ?? 0));
    while (lossAt(moved(), design, isRight, precision) > before + 1e-9 && size > 1e-6) size /= 2;
    weights = moved();
    if (Math.max(...change.map(Math.abs)) < SMALL_STEP) break;
  }
  const covariance = inv(slopeAt(weights, design, isRight, precision).information);
  return { weights, standardErrors: covariance.map((row, at) => Math.sqrt(row[at] ?? 0)) };
}

/** The same where no feature may count against the phrase. */
export function fitRising(
  rows: readonly (readonly number[])[],
  isRight: readonly boolean[],
  precision = NO_PRIOR,
): Fit {
  const count = rows[0]?.length ?? 0;
  let kept = Array.from({ length: count }, (_, index) => index);
  for (;;) {
    const chosen = kept;
    const fit = fitLogistic(
      rows.map((row) => chosen.map((index) => row[index] ?? 0)),
      isRight,
      precision,
    );
    const [bias = 0, ...weights] = fit.weights;
    kept = chosen.filter((_, place) => (weights[place] ?? 0) >= 0);
    if (kept.length === chosen.length) {
      const [errorOfBias = 0, ...errors] = fit.standardErrors;
      const spread = (values: readonly number[]): number[] =>
        Array.from({ length: count }, (_, index) => values[chosen.indexOf(index)] ?? 0);
      return {
        weights: [bias, ...spread(weights)],
        standardErrors: [errorOfBias, ...spread(errors)],
      };
    }
  }
}

function slopeAt(
  weights: readonly number[],
  design: readonly (readonly number[])[],
  isRight: readonly boolean[],
  precision: number,
): { readonly gradient: number[]; readonly information: number[][] } {
  const prior = weights.map((_, index) => (index === 0 ? 0 : precision));
  const gradient = weights.map((w, index) => -(prior[index] ?? 0) * w);
  const information = weights.map((_, a) => weights.map((_, b) => (a === b ? (prior[a] ?? 0) : 0)));
  design.forEach((row, place) => {
    const p = chanceOf(weights, row);
    row.forEach((x, a) => {
      gradient[a] = (gradient[a] ?? 0) + x * (Number(isRight[place]) - p);
      row.forEach((y, b) => {
        const line = information[a];
        if (line) line[b] = (line[b] ?? 0) + x * y * p * (1 - p);
      });
    });
  });
  return { gradient, information };
}

function lossAt(
  weights: readonly number[],
  design: readonly (readonly number[])[],
  isRight: readonly boolean[],
  precision: number,
): number {
  const penalty = weights.slice(1).reduce((sum, w) => sum + 0.5 * precision * w * w, 0);
  return design.reduce((sum, row, place) => {
    const logOdds = dot(weights, row);
    // -log of the chance of what came about, without overflow.
    const against = isRight[place] ? -logOdds : logOdds;
    return sum + Math.max(0, against) + Math.log1p(Math.exp(-Math.abs(against)));
  }, penalty);
}

function chanceOf(weights: readonly number[], row: readonly number[]): number {
  return 1 / (1 + Math.exp(-dot(weights, row)));
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, index) => sum + x * (b[index] ?? 0), 0);
}
