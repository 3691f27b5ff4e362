/** What goes on the one sheet of a case: rows that fit, and how many were left out. Pure. */
import type { PackView } from '../../session';
import { compareToUsual } from '../../review';
import { elapsedToText } from '../parts/format';
import { rangeText, SIDE_SIGNS } from './case-words';
import type { Review } from './review-model.svelte';

/** What became of a pack, where it is worth a line. */
export const PASSED: ReadonlySet<PackView['state']> = new Set(['opened', 'implanted', 'wasted']);
/** Phases that one sheet has room for. */
const MOST_PHASES = 30;

export interface Rows {
  readonly rows: readonly (readonly string[])[];
  /** Left out for want of room. */
  readonly more: number;
}

export function shorten(rows: readonly (readonly string[])[], most: number): Rows {
  return { rows: rows.slice(0, most), more: Math.max(0, rows.length - most) };
}

/** Each phase in one line: number as in the picture, total, the team's usual, and whether it lies outside. */
export function oneLinePhases({ phases, ranges }: Review): Rows {
  return shorten(
    phases.map(({ track, phase, title, totalMs, usualMs, isEstimated }, index) => {
      const range = ranges.get(`${track}/${phase}`);
      const side = isEstimated ? null : compareToUsual(totalMs, range);
      return [
        `${index + 1} ${title}`,
        `${elapsedToText(totalMs)}${isEstimated ? ' ~' : ''}`,
        rangeText(range, usualMs),
        side === null ? '' : SIDE_SIGNS[side],
      ];
    }),
    MOST_PHASES,
  );
}
