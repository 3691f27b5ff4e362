/**
 * Exponentially weighted moving average (NIST/SEMATECH handbook 6.3.2.4): each point is
 * lambda times the new value and the rest of the point before. Limits are those that
 * hold once the chart has run for a while.
 */
export interface Ewma {
  readonly points: readonly number[];
  readonly upper: number;
  readonly lower: number;
  readonly outside: readonly number[];
}

/** The chart of values in order of time. `start` is the target; `width` the limits' distance in sigmas. */
export function chartEwma(
  values: readonly number[],
  {
    start,
    sigma,
    lambda = 0.3,
    width = 3,
  }: {
    readonly start: number;
    readonly sigma: number;
    readonly lambda?: number;
    readonly width?: number;
  },
): Ewma {
  const reach = width * sigma * Math.sqrt(lambda / (2 - lambda));
  const points: number[] = [];
  let point = start;
  for (const value of values) {
    point = lambda * value + (1 - lambda) * point;
    points.push(point);
  }
  return {
    points,
    upper: start + reach,
    lower: start - reach,
    outside: points.flatMap((it, place) => (Math.abs(it - start) > reach ? [place] : [])),
  };
}
