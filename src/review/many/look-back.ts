/** One question about many cases, answered from the table. Plain data in and out, so that a worker can hand it over. */
import type { ChangeMark } from '../statistics/segments';
import type { CaseTable } from './case-table';
import { chartChange } from './change';
import type { ChangeCharts } from './change-charts';
import { filterCases } from './filters';
import type { CaseFilter } from './filters';
import { chooseProcedure, listProcedures, rowsOfProcedure } from './one-procedure';
import type { ProcedureShare } from './one-procedure';
import { measureRoom } from './room';
import type { RoomUse } from './room';
import { makeSeries } from './series';
import { summariseCases } from './summary';
import type { ManyCases } from './summary';
import { summariseTimes } from './times';
import type { ManyTimes } from './times';

/** What is asked of many cases. */
export interface ManyQuestion {
  readonly filter: CaseFilter;
  /** The procedure whose times are shown where the filter lets several through; null for the most frequent. */
  readonly timesOf: string | null;
  /** The phase whose change is shown, "track/phase"; null for whole cases. */
  readonly key: string | null;
  readonly marks: readonly ChangeMark[];
  /** Local time minus UTC, in minutes. */
  readonly offsetMin: number;
}

export interface ManyAnswer {
  readonly filter: CaseFilter;
  readonly summary: ManyCases;
  readonly room: RoomUse;
  readonly period: { readonly from: number; readonly to: number } | null;
  /** The procedures among the cases, the most frequent first. */
  readonly procedures: readonly ProcedureShare[];
  /** The one that times and change are of; null without cases. */
  readonly timesOf: ProcedureShare | null;
  readonly times: ManyTimes;
  /** What the charts of change are of; null, whole cases, also where this procedure has no such phase. */
  readonly key: string | null;
  readonly change: ChangeCharts;
}

/** Answers; the same table and question give the same answer. */
export function lookBack(table: CaseTable, question: ManyQuestion): ManyAnswer {
  const { filter, marks, offsetMin } = question;
  const rows = filterCases(table, filter);
  const procedures = listProcedures(table, rows);
  const timesOf = chooseProcedure(procedures, question.timesOf);
  const timed = rowsOfProcedure(table, rows, timesOf?.id ?? null);
  const times = summariseTimes(table, timed);
  const key = times.phases.find((phase) => phase.key === question.key)?.key ?? null;
  const [first] = rows;
  const last = rows.at(-1);
  const { openedAt } = table.columns;
  return {
    filter,
    summary: summariseCases(table, rows),
    room: measureRoom(table, rows, offsetMin),
    period:
      first === undefined || last === undefined
        ? null
        : { from: openedAt.at(first), to: openedAt.at(last) },
    procedures,
    timesOf,
    times,
    key,
    change: chartChange(makeSeries(table, timed, key, false), marks),
  };
}
