/**
 * The intervals between named times over many cases of one procedure. By the wall clock,
 * as hospitals compare them. Abandoned cases are no measure and are left out.
 */
import type { Milestone } from '../../domain';
import { INTERVALS, nameInterval } from '../named-times';
import { summarise } from '../statistics/percentile';
import type { FiveNumbers } from '../statistics/percentile';
import type { CaseTable, Row } from './case-table';

export interface IntervalSummary {
  readonly from: Milestone;
  readonly to: Milestone;
  readonly name: string;
  /** Of the cases in which both were marked, in this order; null where there is none. */
  readonly minutes: FiveNumbers | null;
  /** Cases in which one of the two, or both, was not marked. */
  readonly unmarked: number;
  /** Cases in which the second was marked before the first. */
  readonly reversed: number;
}

/** Times of the same glossary that no case here can mark; abbreviations from memory. */
export const NOT_OFFERED: readonly { readonly code: string; readonly name: string }[] = [
  { code: 'AI', name: 'anaesthesia induction' },
  { code: 'RCS', name: 'room clean-up start' },
  { code: 'RCF', name: 'room clean-up finish' },
  { code: 'PACU', name: 'arrival in the recovery unit' },
  { code: 'AF', name: 'anaesthesia finish' },
];

const MINUTE_MS = 60_000;

/** Every interval that is offered, in the order of a case. */
export function summariseIntervals(
  table: CaseTable,
  rows: readonly Row[],
): readonly IntervalSummary[] {
  const whole = rows.filter((row) => !table.is(row, 'abandoned'));
  return INTERVALS.map(([from, to]) => {
    const all = whole.map((row) => table.columns[to].at(row) - table.columns[from].at(row));
    const marked = all.filter((ms) => !Number.isNaN(ms));
    const right = marked.filter((ms) => ms >= 0);
    return {
      from,
      to,
      name: nameInterval(from, to),
      minutes: summarise(right.map((ms) => ms / MINUTE_MS)),
      unmarked: all.length - marked.length,
      reversed: marked.length - right.length,
    };
  });
}
