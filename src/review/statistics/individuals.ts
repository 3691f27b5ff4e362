/**
 * Individuals and moving-range chart (NIST/SEMATECH handbook 6.3.2.2): single values
 * around their mean, with limits at three sigma, where sigma comes from the mean
 * moving range of two and so from the change between neighbours only.
 */
import { mean } from 'd3-array';
import { studentCdf } from './student';

/** d2 for ranges of two normal values: 2/√π. NIST's tables round it to 1.128. */
export const D2 = 2 / Math.sqrt(Math.PI);
/** D4 = 1 + 3 d3/d2 with d3 = √(2 − 4/π): the upper limit of moving ranges is D4 times their mean. */
export const D4 = 1 + (3 * Math.sqrt(2 - 4 / Math.PI)) / D2;

export interface IndividualsChart {
  readonly mean: number;
  readonly meanRange: number;
  readonly sigma: number;
  readonly upper: number;
  readonly lower: number;
  readonly rangeUpper: number;
  /** One shorter than the values. */
  readonly ranges: readonly number[];
  /** Places of values beyond a limit. */
  readonly outside: readonly number[];
}

/**
 * The chart of values in order of time. `baseline` is how many of the first values the
 * limits are computed from (all of them where left out); at least two. `d2` is for
 * comparison with a printed table only.
 */
export function chartIndividuals(
  values: readonly number[],
  baseline = values.length,
  d2 = D2,
): IndividualsChart {
  const from = values.slice(0, baseline);
  const ranges = movingRanges(values);
  const centre = mean(from) ?? Number.NaN;
  const meanRange = mean(movingRanges(from)) ?? Number.NaN;
  const sigma = meanRange / d2;
  const upper = centre + 3 * sigma;
  const lower = centre - 3 * sigma;
  return {
    mean: centre,
    meanRange,
    sigma,
    upper,
    lower,
    rangeUpper: D4 * meanRange,
    ranges,
    outside: values.flatMap((value, place) => (value > upper || value < lower ? [place] : [])),
  };
}

function movingRanges(values: readonly number[]): readonly number[] {
  return values.slice(1).map((value, index) => Math.abs(value - (values[index] ?? value)));
}

/** Share of steady, normal values that lie outside limits taken from so many cases: 1 in 370 with endless ones, more with few. */
export function chanceOutside(baseline: number): number {
  // The centre is uncertain as well as the spread.
  return chanceBeyond(3 / Math.sqrt(1 + 1 / baseline), baseline);
}

/** The same of moving ranges beyond their limit; a range knows no centre. */
export function chanceRangeBeyond(baseline: number): number {
  return chanceBeyond((D4 * D2) / Math.SQRT2, baseline);
}

/**
 * Both tails beyond so many sigmas, where sigma is the mean moving range of so many cases
 * over d2: that is taken for a multiple of chi with the same mean and variance (Patnaik
 * 1950), which makes a value over it Student's t.
 */
function chanceBeyond(sigmas: number, baseline: number): number {
  const square = squareOfVariation(baseline);
  // With f degrees of freedom chi varies by 1/(2f) + 1/(8f²) + …, and its mean is √f over this root.
  const freedom = 1 / (2 * square) + 1 / 4;
  return 2 * studentCdf(-sigmas * Math.sqrt(1 + square), freedom);
}

/**
 * Variance over squared mean of the mean moving range of so many normal values.
 * Neighbouring ranges share a value: with X, Y normal at correlation ρ, E|XY| =
 * 2(√(1 − ρ²) + ρ asin ρ)/π, and ρ is −1/2 here. In the long run the variance of sigma
 * is 0.826 σ² over their number (Cryer & Ryan 1990, from memory).
 */
function squareOfVariation(count: number): number {
  const ranges = count - 1;
  const squareOfMean = 4 / Math.PI;
  const own = 2 - squareOfMean;
  const shared = (4 / Math.PI) * (Math.sqrt(3) / 2 + Math.PI / 12) - squareOfMean;
  return (ranges * own + 2 * (ranges - 1) * shared) / ranges ** 2 / squareOfMean;
}
