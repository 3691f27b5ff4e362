/**
 * Named times and the intervals between them. Names follow the glossary of
 * procedural times of the Association of Anesthesia Clinical Directors, read
 * second-hand and from memory. Of several marks of one name the last one counts.
 */
import { elapsedBetween, MILESTONES } from '../domain';
import type { Entry, Milestone, Stamp } from '../domain';

export interface NamedTimeRow {
  readonly code: Milestone;
  readonly name: string;
  readonly at: Stamp;
  /** How often it was marked. */
  readonly times: number;
}

export interface IntervalRow {
  readonly from: Milestone;
  readonly to: Milestone;
  readonly name: string;
  /** Null where the second was marked before the first. */
  readonly ms: number | null;
  readonly isEstimated: boolean;
}

/** The intervals that hospitals compare; common practice. */
export const INTERVALS: readonly (readonly [Milestone, Milestone])[] = [
  ['PIR', 'PST'],
  ['AS', 'AR'],
  ['PS', 'PC'],
  ['PST', 'PF'],
  ['PCB', 'PF'],
  ['PF', 'POR'],
  ['PIR', 'POR'],
];

/** What an interval is called: "Patient in room to procedure start". */
export function nameInterval(from: Milestone, to: Milestone): string {
  return `${MILESTONES[from]} to ${MILESTONES[to].toLowerCase()}`;
}

/** The marked times in their usual order. */
export function listNamedTimes(entries: readonly Entry[]): readonly NamedTimeRow[] {
  return (Object.keys(MILESTONES) as Milestone[]).flatMap((code) => {
    const marks = marksOf(entries, code);
    const last = marks.at(-1);
    if (!last) return [];
    const { at, mono, run } = last;
    return [{ code, name: MILESTONES[code], at: { at, mono, run }, times: marks.length }];
  });
}

/** The intervals of which both ends were marked. */
export function listIntervals(entries: readonly Entry[]): readonly IntervalRow[] {
  return INTERVALS.flatMap(([from, to]) => {
    const start = marksOf(entries, from).at(-1);
    const stop = marksOf(entries, to).at(-1);
    if (!start || !stop) return [];
    const elapsed = elapsedBetween(start, stop);
    return [
      {
        from,
        to,
        name: nameInterval(from, to),
        ms: stop.seq < start.seq ? null : elapsed.ms,
        isEstimated: elapsed.isEstimated,
      },
    ];
  });
}

function marksOf(entries: readonly Entry[], code: Milestone): readonly Entry[] {
  return entries.filter(
    (entry) => entry.type === 'milestone.reached' && entry.data.milestone === code,
  );
}
