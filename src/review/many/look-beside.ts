/**
 * Rooms, named times, holds, overrides and speech over many cases: further down the screen than the charts, so
 * asked for after them. A change of a filter then waits for the charts alone.
 */
import type { CaseTable } from './case-table';
import { filterCases } from './filters';
import type { CaseFilter } from './filters';
import { summariseIntervals } from './intervals';
import type { IntervalSummary } from './intervals';
import { chooseCases } from './look-back';
import type { ManyAnswer, ManyQuestion } from './look-back';
import { measureRooms } from './room';
import type { RoomUse } from './room';
import { summariseCases } from './summary';
import type { ManyCases } from './summary';

export interface ManyBeside extends Pick<ManyAnswer, 'filter' | 'procedures' | 'timesOf'> {
  /** Of the cases that are asked for, whatever their procedure. */
  readonly summary: ManyCases;
  /** Of all cases of the mode and the period: whoever came between two cases, the room was theirs. */
  readonly room: RoomUse;
  /** Between named times, of the same cases as the times. */
  readonly intervals: readonly IntervalSummary[];
}

/** Answers; `offsetAt` is local time minus UTC at a moment, in minutes. */
export function lookBeside(
  table: CaseTable,
  question: ManyQuestion,
  offsetAt: (at: number) => number,
): ManyBeside {
  const { filter, hours } = question;
  const { rows, procedures, timesOf, timed } = chooseCases(table, question);
  const anyone: CaseFilter = { ...filter, procedureId: null, side: null, role: null, alternative: null, cards: null }; // prettier-ignore
  return {
    filter,
    procedures,
    timesOf,
    summary: summariseCases(table, rows),
    room: measureRooms(table, filterCases(table, anyone), offsetAt, hours),
    intervals: summariseIntervals(table, timed),
  };
}
