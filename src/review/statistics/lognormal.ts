/**
 * Lognormal durations: surgical times fit it better than the normal distribution
 * (Strum, May & Vargas 2000, Anesthesiology 92:1160). `mu` and `sigma` are mean and
 * standard deviation of the natural logarithm of the time.
 */
import { deviation, mean } from 'd3-array';
import { normalCdf, normalUpperQuantile, normalUpperTail } from './normal';
import { studentQuantile } from './student';

export interface Lognormal {
  readonly mu: number;
  readonly sigma: number;
}

/** The lognormal with the given mean and standard deviation of the times themselves. */
export function fitMoments(meanTime: number, deviationOfTime: number): Lognormal {
  const variance = Math.log1p((deviationOfTime / meanTime) ** 2);
  return { mu: Math.log(meanTime) - variance / 2, sigma: Math.sqrt(variance) };
}

/** The mean of the times. */
export function lognormalMean({ mu, sigma }: Lognormal): number {
  return Math.exp(mu + (sigma * sigma) / 2);
}

/** The standard deviation of the times. */
export function lognormalDeviation(law: Lognormal): number {
  return lognormalMean(law) * Math.sqrt(Math.expm1(law.sigma * law.sigma));
}

/** The time below which a share `p` of the cases lies. */
export function lognormalQuantile({ mu, sigma }: Lognormal, p: number): number {
  return Math.exp(mu + sigma * normalUpperQuantile(1 - p));
}

/** P(T > elapsed). */
export function stillRunning({ mu, sigma }: Lognormal, elapsed: number): number {
  return elapsed <= 0 ? 1 : normalUpperTail((Math.log(elapsed) - mu) / sigma);
}

/**
 * What is left, given that it has lasted this long: the time below which a share `p` of
 * such cases is done, counted from now. p = 0.5 is the median left, which is longer
 * than median minus elapsed.
 */
export function remainingQuantile(law: Lognormal, elapsed: number, p: number): number {
  const alive = stillRunning(law, elapsed);
  return Math.exp(law.mu + law.sigma * normalUpperQuantile(alive * (1 - p))) - Math.max(0, elapsed);
}

/** The mean of what is left, given that it has lasted this long. */
export function remainingMean(law: Lognormal, elapsed: number): number {
  if (elapsed <= 0) return lognormalMean(law);
  const z = (Math.log(elapsed) - law.mu) / law.sigma;
  return (lognormalMean(law) * normalCdf(law.sigma - z)) / normalUpperTail(z) - elapsed;
}

/**
 * The bound that a share of further cases stays under, from a sample of times
 * (Zhou & Dexter 1998): exp(m + t(share, n − 1) · s · √(1 + 1/n)).
 */
export function predictionBound(times: readonly number[], share: number): number {
  const logs = times.map(Math.log);
  const m = mean(logs) ?? Number.NaN;
  const s = deviation(logs) ?? Number.NaN;
  return boundFrom({ count: times.length, mu: m, sigma: s }, share);
}

/** The same from the sample's count and the mean and deviation of its logarithms. */
export function boundFrom(
  { count, mu, sigma }: Lognormal & { readonly count: number },
  share: number,
): number {
  return Math.exp(mu + studentQuantile(share, count - 1) * sigma * Math.sqrt(1 + 1 / count));
}
