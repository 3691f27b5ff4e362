/**
 * Individuals and moving-range chart (NIST/SEMATECH handbook 6.3.2.2): single values
 * around their mean, with limits at three sigma, where sigma comes from the mean
 * moving range of two and so from the change between neighbours only.
 */
import { mean } from 'd3-array';

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
