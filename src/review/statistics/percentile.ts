/**
 * Percentiles, with the definition named, because programs differ: R6, R7 and R8 of
 * Hyndman & Fan 1996 (The American Statistician 50:361). The review uses R6
 * throughout: it is the NIST handbook's definition and a spreadsheet's
 * PERCENTILE.EXC, and between its 10 % and 90 % lie, on average, 80 % of the cases
 * to come, which is what a "usual range" promises.
 */
import { mean, quantileSorted } from 'd3-array';

export type PercentileDefinition = 'R6' | 'R7' | 'R8';

/** The values from the smallest to the largest. An array of numbers sorts itself many times faster than one of anything. */
export function sortUp(values: ArrayLike<number>): Float64Array {
  return Float64Array.from(values).sort();
}

/** The percentile of values sorted upwards; NaN without values. `p` is a share from 0 to 1. */
export function percentile(
  sorted: ArrayLike<number>,
  p: number,
  definition: PercentileDefinition = 'R6',
): number {
  if (definition === 'R7') return quantileSorted(Array.from(sorted), p) ?? Number.NaN;
  const count = sorted.length;
  const place = definition === 'R6' ? p * (count + 1) : p * (count + 1 / 3) + 1 / 3;
  const below = Math.floor(place);
  const low = sorted[Math.max(0, below - 1)];
  const high = sorted[Math.min(count - 1, below)];
  if (low === undefined || high === undefined) return Number.NaN;
  if (below < 1) return low;
  return low + (place - below) * (high - low);
}

/** What a box and its table show. Spread is the range between the quartiles. */
export interface FiveNumbers {
  readonly count: number;
  readonly least: number;
  readonly tenth: number;
  readonly lowerQuartile: number;
  readonly median: number;
  readonly upperQuartile: number;
  readonly ninetieth: number;
  readonly most: number;
  readonly spread: number;
  readonly mean: number;
}

/** Sums up values in any order; null where there are none. Definition R6. */
export function summarise(values: ArrayLike<number>): FiveNumbers | null {
  const sorted = sortUp(values);
  const least = sorted[0];
  const most = sorted.at(-1);
  if (least === undefined || most === undefined) return null;
  const lowerQuartile = percentile(sorted, 0.25);
  const upperQuartile = percentile(sorted, 0.75);
  return {
    count: sorted.length,
    least,
    tenth: percentile(sorted, 0.1),
    lowerQuartile,
    median: percentile(sorted, 0.5),
    upperQuartile,
    ninetieth: percentile(sorted, 0.9),
    most,
    spread: upperQuartile - lowerQuartile,
    mean: mean(sorted) ?? Number.NaN,
  };
}
