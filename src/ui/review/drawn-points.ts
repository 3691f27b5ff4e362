/** What every chart of change draws of its cases. Pure. */
import type { ChartKey, Ring } from './line-parts';

/** One dot is one case. */
export const CASE: ChartKey = { kind: 'dots', text: 'a case' };

/** Rings around the values at these places. */
export function ringed(values: readonly number[], at: readonly number[]): readonly Ring[] {
  return at.map((place) => ({ place, at: values[place] ?? NaN }));
}

export function minutesOf(points: readonly { readonly minutes: number }[]): readonly number[] {
  return points.map(({ minutes }) => minutes);
}
