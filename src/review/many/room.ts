/**
 * One screen, one room: how the day was used and what lay between cases, after the
 * published glossary (utilization is the share of resource hours with a patient in the
 * room; turnover runs from patient out to the next patient in). Where in and out were
 * not marked, opening and closing of the case stand in, and it says so.
 */
import { summarise } from '../statistics/percentile';
import type { FiveNumbers } from '../statistics/percentile';
import type { CaseTable, Row } from './case-table';

export interface RoomUse {
  readonly days: number;
  /** Share of the resource hours with a patient in the room; may not exceed 1. */
  readonly rawUtilization: number | null;
  /** Minutes from one patient out to the next in, on the same day. */
  readonly turnover: FiveNumbers | null;
  /** Cases whose in or out was not marked. */
  readonly unmarked: number;
}

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
/** A longer gap is a pause in the list, not a turnover. Common practice. */
const LONGEST_TURNOVER_MIN = 90;

/** `offsetMin` is local time minus UTC, so that a day is the room's day; resource hours a day default to eight. */
export function measureRoom(
  { columns }: CaseTable,
  rows: readonly Row[],
  offsetMin: number,
  resourceHours = 8,
): RoomUse {
  const { openedAt, closedAt, inAt, outAt } = columns;
  const stays = rows
    .map((row) => {
      const isMarked = !Number.isNaN(inAt.at(row) + outAt.at(row));
      return {
        from: known(inAt.at(row), openedAt.at(row)),
        to: known(outAt.at(row), known(closedAt.at(row), openedAt.at(row))),
        isMarked,
      };
    })
    .sort((a, b) => a.from - b.from);
  const dayOf = (at: number) => Math.floor((at + offsetMin * MINUTE_MS) / DAY_MS);
  const days = new Set(stays.map(({ from }) => dayOf(from)));
  const turnovers = stays.slice(1).flatMap(({ from }, index) => {
    const before = stays[index];
    if (!before || dayOf(before.to) !== dayOf(from)) return [];
    const minutes = (from - before.to) / MINUTE_MS;
    return minutes >= 0 && minutes <= LONGEST_TURNOVER_MIN ? [minutes] : [];
  });
  const inRoom = stays.reduce((sum, { from, to }) => sum + Math.max(0, to - from), 0);
  const available = days.size * resourceHours * 60 * MINUTE_MS;
  return {
    days: days.size,
    rawUtilization: available > 0 ? Math.min(1, inRoom / available) : null,
    turnover: summarise(turnovers),
    unmarked: stays.filter(({ isMarked }) => !isMarked).length,
  };
}

/** A time, or what stands in where it was not marked. */
function known(at: number, instead: number): number {
  return Number.isNaN(at) ? instead : at;
}
