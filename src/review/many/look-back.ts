/** One question about many cases, answered from the table. Plain data in and out, so that a worker can hand it over. */
import type { CaseTable } from './case-table';
import { chartChange } from './change';
import type { ChangeCharts } from './change-charts';
import { filterCases } from './filters';
import type { CaseFilter } from './filters';
import { chooseProcedure, listProcedures, rowsOfProcedure } from './one-procedure';
import type { ProcedureShare } from './one-procedure';
import { marksFor } from './marked-changes';
import type { MarkedChange } from './marked-changes';
import type { RoomHours } from './room-hours';
import { makeSeries } from './series';
import { summariseTimes } from './times';
import type { ManyTimes } from './times';

/** What is asked of many cases. */
export interface ManyQuestion {
  readonly filter: CaseFilter;
  /** The procedure whose times are shown where the filter lets several through; null for the most frequent. */
  readonly timesOf: string | null;
  /** The phase whose change is shown, "track/phase"; null for whole cases. */
  readonly key: string | null;
  /** When a room is there to be used. */
  readonly hours: RoomHours;
}

export interface ManyAnswer {
  readonly filter: CaseFilter;
  readonly caseCount: number;
  readonly period: { readonly from: number; readonly to: number } | null;
  /** The procedures among the cases, the most frequent first. */
  readonly procedures: readonly ProcedureShare[];
  /** The one that times and change are of; null without cases. */
  readonly timesOf: ProcedureShare | null;
  readonly times: ManyTimes;
  /** What the charts of change are of; null, whole cases, also where this procedure has no such phase. */
  readonly key: string | null;
  /** Marked changes at which the charts are split. */
  readonly marks: readonly MarkedChange[];
  readonly change: ChangeCharts;
}

/** The cases that are asked for, the procedures among them, and those of the one that times are of. */
export function chooseCases(table: CaseTable, { filter, timesOf: asked }: ManyQuestion) {
  const rows = filterCases(table, filter);
  const procedures = listProcedures(table, rows);
  const timesOf = chooseProcedure(procedures, asked);
  return { rows, procedures, timesOf, timed: rowsOfProcedure(table, rows, timesOf?.id ?? null) };
}

/** Answers; the same table and question give the same answer. What is further down the screen is look-beside.ts. */
export function lookBack(
  table: CaseTable,
  question: ManyQuestion,
  marked: readonly MarkedChange[] = [],
): ManyAnswer {
  const { filter } = question;
  const { rows, procedures, timesOf, timed } = chooseCases(table, question);
  const times = summariseTimes(table, timed);
  const isThere = times.phases.some(({ key: known }) => known === question.key);
  // Without cases nobody can say which phases there are.
  const key = isThere || timesOf === null ? question.key : null;
  // A case number says how many such cases the team had done by then, whatever part of them is looked at.
  const all = filterCases(table, { ...filter, side: null, from: null, to: null, alternative: null, cards: null }); // prettier-ignore
  const procedureId = timesOf?.id ?? filter.procedureId;
  const numbered = rowsOfProcedure(table, all, procedureId);
  const marks = marksFor(marked, { mode: filter.mode, procedureId }, key);
  const [first] = rows;
  const last = rows.at(-1);
  const { openedAt } = table.columns;
  return {
    filter,
    caseCount: rows.length,
    period:
      first === undefined || last === undefined
        ? null
        : { from: openedAt.at(first), to: openedAt.at(last) },
    procedures,
    timesOf,
    times,
    key,
    marks,
    change: chartChange(makeSeries(table, timed, key, false, numbered), marks),
  };
}
