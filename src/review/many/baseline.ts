/**
 * The first cases of a part, from which a chart's centre and limits are taken, and the
 * cases after them, which alone are judged: a case that helped to draw a limit can't
 * be held against it. While few cases lie beyond the baseline nothing is said.
 */
import type { SeriesPoint } from './series';

/** With fewer cases since the last marked change too few lie beyond the baseline. The CUSUM needs as many. */
export const LEAST_JUDGED = 24;

/** How many first cases the limits are taken from: sixty where there are enough, else fewer; all where there are no more. */
export function baselineLength(count: number): number {
  return count >= 90 ? 60 : count >= 45 ? 30 : Math.min(count, 15);
}

/** Of these places those that are judged: none in the baseline, and none while there are too few cases. */
export function judgedOf(places: readonly number[], count: number): readonly number[] {
  if (count < LEAST_JUDGED) return [];
  const baseline = baselineLength(count);
  return places.filter((place) => place >= baseline);
}

/** What the limits of the part since the last marked change rest on; empty without cases. */
export function baselineNote(
  parts: readonly { readonly label: string | null; readonly points: readonly SeriesPoint[] }[],
): string {
  const { points = [], label = null } = parts.at(-1) ?? {};
  const count = baselineLength(points.length);
  const [first] = points;
  const last = points[count - 1];
  if (!first || !last) return '';
  const since = label === null ? '' : ` since “${label}”`;
  const numbers =
    first === last ? `case ${first.number}` : `case ${first.number} to case ${last.number}`;
  const rest = points.length - count;
  return `Baseline: the first ${count} of the ${points.length} cases shown${since}, ${numbers}. Centre and limits come from them alone; ${rest === 0 ? 'none is judged yet' : `the ${rest} after them ${points.length < LEAST_JUDGED ? 'are not judged yet' : 'are judged'}`}.`;
}
