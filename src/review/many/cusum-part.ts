/**
 * The CUSUM of the review and its design: on log scale, each case held against all before
 * it since the last marked change, so that signals in steady times are as rare after
 * twenty cases as after two hundred. docs/charts.md says what it finds and how often it errs.
 */
import { chartCusum } from '../statistics/cusum';
import { chartIndividuals } from '../statistics/individuals';
import { limitForRunLength } from '../statistics/run-length';
import { standardiseAgainstEarlier } from '../statistics/self-starting';
import type { CusumPart, CusumSignal } from './change-charts';
import type { SeriesPoint } from './series';

/** The change that it is designed to find: 15 % in either direction. */
const CHANGE_SOUGHT = 1.15;
/** The allowance as a share of that change. A half finds fastest on average; a third finds more of them within 20 cases. */
const ALLOWANCE = 0.35;
/** How many steady cases lie between two signals, on average: fewer than one in a hundred is the aim. */
export const FALSE_SIGNAL_EVERY = 130;
/** The first cases are only what the others are held against: with fewer nothing is found anyway. */
export const REFERENCE = 12;

/** The design for a spread on log scale, in sigmas: the noisier the phase, the higher the limit, so that false signals stay as rare. */
export function designCusum(sigma: number): { readonly k: number; readonly h: number } {
  const k = (ALLOWANCE * Math.log(CHANGE_SOUGHT)) / sigma;
  return { k, h: limitForRunLength(k, FALSE_SIGNAL_EVERY) };
}

/** The sums of the cases between two marked changes. */
export function cusumPart(part: {
  readonly label: string | null;
  readonly points: readonly SeriesPoint[];
}): CusumPart {
  const logs = part.points.map(({ minutes }) => Math.log(minutes));
  // From neighbours only, so that a change of the level does not pass for spread.
  const { sigma } = chartIndividuals(logs);
  const design = sigma > 0 ? designCusum(sigma) : { k: Infinity, h: 0 };
  const scores = standardiseAgainstEarlier(logs, REFERENCE).map((score) => score ?? 0);
  const { high, low, signals } = chartCusum(scores, { target: 0, ...design, restarts: true });
  return {
    ...part,
    high,
    low,
    allowance: design.k,
    limit: design.h,
    sigma,
    signals: signals.map((signal, index) => ({
      ...signal,
      since: beginOf(signal, signal.side === 'high' ? high : low, signals[index - 1]?.place ?? -1),
    })),
  };
}

/** Where a change that gave a signal seems to have begun: after its sum last stood at nought or began anew (Page 1954). */
function beginOf(
  { place }: Pick<CusumSignal, 'place'>,
  sums: readonly number[],
  restart: number,
): number {
  return Math.max(restart, sums.slice(0, place).lastIndexOf(0)) + 1;
}
