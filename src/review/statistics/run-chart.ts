/**
 * Run chart around the median with the Anhøj rules (Anhøj & Olesen 2014, PLoS ONE
 * 9:e113825): values on the median are dropped; a run longer than round(log2 n) + 3,
 * or fewer crossings of the median than the 5 % quantile of Binomial(n − 1, ½), is a
 * sign that something other than chance is at work.
 */
import { percentile, sortUp } from './percentile';

export interface RunChart {
  readonly median: number;
  /** Values that are not on the median. */
  readonly useful: number;
  readonly longestRun: number;
  readonly longestRunLimit: number;
  readonly crossings: number;
  readonly crossingsLimit: number;
  readonly isLongRun: boolean;
  readonly isFewCrossings: boolean;
  /** Places, among all values, of the longest run. */
  readonly runFrom: number;
  readonly runTo: number;
}

/** The chart of values in order of time, around their own median or a given one. */
export function chartRuns(values: readonly number[], median = medianOf(values)): RunChart {
  const sides = values.map((value) => Math.sign(value - median));
  let useful = 0;
  let crossings = 0;
  let last = 0;
  let run = { from: 0, to: -1, length: 0 };
  let longest = run;
  for (const [place, side] of sides.entries()) {
    if (side === 0 || Number.isNaN(side)) continue;
    useful += 1;
    if (last !== 0 && side !== last) crossings += 1;
    run =
      side === last
        ? { from: run.from, to: place, length: run.length + 1 }
        : { from: place, to: place, length: 1 };
    if (run.length > longest.length) longest = run;
    last = side;
  }
  const longestRunLimit = limitOfRuns(useful);
  const crossingsLimit = limitOfCrossings(useful);
  return {
    median,
    useful,
    longestRun: longest.length,
    longestRunLimit,
    crossings,
    crossingsLimit,
    isLongRun: longest.length > longestRunLimit,
    isFewCrossings: crossings < crossingsLimit,
    runFrom: longest.from,
    runTo: longest.to,
  };
}

/** The longest run that chance still explains. */
export function limitOfRuns(useful: number): number {
  return useful < 1 ? 0 : Math.round(Math.log2(useful)) + 3;
}

/** The fewest crossings that chance still explains: the 5 % quantile of Binomial(n − 1, ½). */
export function limitOfCrossings(useful: number): number {
  const trials = Math.max(0, useful - 1);
  // In logarithms, so that hundreds of values do not underflow.
  let logMass = -trials * Math.LN2;
  let sum = Math.exp(logMass);
  let count = 0;
  while (sum < 0.05 && count < trials) {
    count += 1;
    logMass += Math.log((trials - count + 1) / count);
    sum += Math.exp(logMass);
  }
  return count;
}

function medianOf(values: readonly number[]): number {
  return percentile(sortUp(values), 0.5);
}
