/** How long cases and their phases took and how often they went back, for cases of one procedure (one-procedure.ts). Minutes. */
import { summarise } from '../statistics/percentile';
import type { FiveNumbers } from '../statistics/percentile';
import type { CaseTable, Row } from './case-table';
import { summarisePhases } from './phase-summary';
import type { PhaseSummary } from './phase-summary';
import { makeSeries } from './series';

export interface ManyTimes {
  readonly caseCount: number;
  /** Of the cases that are a measure: neither abandoned nor timed across a restart. */
  readonly totalMinutes: FiveNumbers | null;
  readonly phases: readonly PhaseSummary[];
  readonly loopsPerCase: FiveNumbers | null;
}

/** Sums up the times of cases; rows oldest first. */
export function summariseTimes(table: CaseTable, rows: readonly Row[]): ManyTimes {
  return {
    caseCount: rows.length,
    totalMinutes: summarise(makeSeries(table, rows, null).map(({ minutes }) => minutes)),
    phases: summarisePhases(table, rows),
    loopsPerCase: summarise(rows.map((row) => countRepeats(table, row))),
  };
}

function countRepeats(table: CaseTable, row: Row): number {
  const { from, to } = table.spanOf('phases', row);
  const passes = table.columns.phasePasses;
  let repeats = 0;
  for (let place = from; place < to; place += 1) repeats += Math.max(0, passes.at(place) - 1);
  return repeats;
}
