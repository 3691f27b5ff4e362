/** Shares of small numbers of trials, with the interval that says how little they may prove. */

/** Two-sided 95 %: the 97.5 % quantile of the normal distribution. */
const Z = 1.959964;

export interface Share {
  readonly count: number;
  readonly of: number;
  /** In percent; null where there were no trials. */
  readonly percent: number | null;
  /** 95 % interval in percent, E. B. Wilson 1927 (JASA 22, 209-212). */
  readonly from: number;
  readonly to: number;
}

export function toShare(count: number, of: number): Share {
  const [low, high] = wilsonInterval(count, of);
  return {
    count,
    of,
    percent: of === 0 ? null : round((100 * count) / of),
    from: round(100 * low),
    to: round(100 * high),
  };
}

/** Lower and upper limit, 0 to 1; everything where there were no trials. */
export function wilsonInterval(count: number, of: number): readonly [number, number] {
  if (of === 0) return [0, 1];
  const share = count / of;
  const middle = share + (Z * Z) / (2 * of);
  const half = Z * Math.sqrt((share * (1 - share)) / of + (Z * Z) / (4 * of * of));
  const scale = 1 + (Z * Z) / of;
  return [Math.max(0, (middle - half) / scale), Math.min(1, (middle + half) / scale)];
}

/**
 * Upper one-sided 95 % limit of the mean of a Poisson count: the mean at which so few events
 * come once in twenty times (F. Garwood 1936, Biometrika 28). 3.0 where there was none, the
 * "rule of three".
 */
export function poissonUpper(count: number): number {
  let [low, high] = [count, count + 10 + 4 * Math.sqrt(count)];
  for (let step = 0; step < 60; step += 1) {
    const mean = (low + high) / 2;
    if (chanceOfAtMost(count, mean) > 0.05) low = mean;
    else high = mean;
  }
  return low;
}

/** Poisson: the chance of `count` events or fewer. */
function chanceOfAtMost(count: number, mean: number): number {
  let term = Math.exp(-mean);
  let sum = term;
  for (let events = 1; events <= count; events += 1) {
    term *= mean / events;
    sum += term;
  }
  return sum;
}

/** "97.5 (94.1–99.0) %" of how many. */
export function tellShare({ percent, from, to, of }: Share): string {
  return percent === null ? '–' : `${percent} (${from}–${to}) of ${of}`;
}

function round(x: number): number {
  return Number(x.toFixed(1));
}
