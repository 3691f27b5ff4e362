/**
 * How each room was used and what lay between its cases, after the published glossary
 * (raw utilization is the share of resource hours with a patient in the room; turnover
 * runs from patient out to the next patient in). Rooms are told apart by the theatre's
 * label. A minute counts inside the resource hours of its day or as overrun, never both;
 * of two cases that lie over each other in one room each minute counts once.
 */
import { summarise } from '../statistics/percentile';
import type { FiveNumbers } from '../statistics/percentile';
import type { CaseTable, Row } from './case-table';
import { USUAL_HOURS } from './room-hours';
import type { RoomHours } from './room-hours';
import { listStays } from './room-stays';
import type { Stay } from './room-stays';

export interface RoomDays {
  /** Days with a patient in the room. */
  readonly days: number;
  /** Share of the resource hours with a patient in the room, 0 to 1; null without a day. */
  readonly rawUtilization: number | null;
  /** Minutes with a patient in the room before or after the resource hours. */
  readonly overrunMin: number;
  /** Minutes from one patient out to the next in, on the same day. */
  readonly turnover: FiveNumbers | null;
  /** Gaps on one day that are too long for a turnover. */
  readonly pauses: number;
  /** Cases that began before the one before had left. */
  readonly overlaps: number;
}

export interface OneRoom extends RoomDays {
  /** The theatre's label; empty for cases without one. */
  readonly theatre: string;
  readonly caseCount: number;
}

export interface RoomUse {
  readonly hours: RoomHours;
  /** One row a room, by its label. */
  readonly rooms: readonly OneRoom[];
  /** All rooms together; each has its own resource hours. */
  readonly all: RoomDays;
  /** Cases whose in or out was not marked. */
  readonly unmarked: number;
  /** Cases left out: out before in, or longer than a day. */
  readonly unusable: number;
}

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
/** A longer gap is a pause in the list, not a turnover. Common practice. */
export const LONGEST_TURNOVER_MIN = 90;

/** What was counted before it is put into shares. */
interface Counted {
  readonly days: number;
  readonly insideMs: number;
  readonly outsideMs: number;
  readonly turnovers: readonly number[];
  readonly pauses: number;
  readonly overlaps: number;
}

/** `offsetAt` is local time minus UTC at a moment, in minutes, so that a day is the room's day in summer and in winter. */
export function measureRooms(
  table: CaseTable,
  rows: readonly Row[],
  offsetAt: (at: number) => number,
  hours: RoomHours = USUAL_HOURS,
): RoomUse {
  const { stays, unusable } = listStays(table, rows);
  const byRoom = new Map<number, Stay[]>();
  for (const stay of stays) {
    const its = byRoom.get(stay.room);
    if (its) its.push(stay);
    else byRoom.set(stay.room, [stay]);
  }
  const counted = [...byRoom]
    .map(([room, its]) => ({
      theatre: table.words.textOf(room),
      caseCount: its.length,
      counts: countRoom(its, offsetAt, hours),
    }))
    .sort((a, b) => a.theatre.localeCompare(b.theatre, 'en'));
  return {
    hours,
    rooms: counted.map(({ counts, ...room }) => ({ ...room, ...toShares([counts], hours) })),
    all: toShares(counted.map(({ counts }) => counts), hours), // prettier-ignore
    unmarked: stays.filter(({ isMarked }) => !isMarked).length,
    unusable,
  };
}

/** One room's stays, the earliest first. */
function countRoom(
  stays: readonly Stay[],
  offsetAt: (at: number) => number,
  hours: RoomHours,
): Counted {
  const days = new Set<number>();
  const turnovers: number[] = [];
  let insideMs = 0;
  let occupiedMs = 0;
  let pauses = 0;
  let overlaps = 0;
  /** When the last patient so far left, in local time. */
  let leftAt = -Infinity;
  for (const stay of stays) {
    const from = stay.from + offsetAt(stay.from) * MINUTE_MS;
    const to = stay.to + offsetAt(stay.to) * MINUTE_MS;
    const gapMin = (from - leftAt) / MINUTE_MS;
    if (gapMin < 0) overlaps += 1;
    else if (dayOf(from) === dayOf(leftAt)) {
      if (gapMin <= LONGEST_TURNOVER_MIN) turnovers.push(gapMin);
      else pauses += 1;
    }
    const parts = partsByDay(Math.max(from, leftAt), to, hours);
    for (const { day, ms } of parts) {
      days.add(day);
      insideMs += ms;
    }
    if (parts.length === 0) days.add(dayOf(from));
    occupiedMs += Math.max(0, to - Math.max(from, leftAt));
    leftAt = Math.max(leftAt, to);
  }
  return { days: days.size, insideMs, outsideMs: occupiedMs - insideMs, turnovers, pauses, overlaps };
} // prettier-ignore

/** What of a stretch lies inside the resource hours, by the day on which these begin. Local times. */
function partsByDay(from: number, to: number, { fromMin, hours }: RoomHours) {
  const parts: { readonly day: number; readonly ms: number }[] = [];
  // Hours that run past midnight belong to the day before.
  for (let day = dayOf(from) - 1; day <= dayOf(to); day += 1) {
    const opens = day * DAY_MS + fromMin * MINUTE_MS;
    const ms = Math.min(to, opens + hours * 60 * MINUTE_MS) - Math.max(from, opens);
    if (ms > 0) parts.push({ day, ms });
  }
  return parts;
}

function toShares(counts: readonly Counted[], { hours }: RoomHours): RoomDays {
  const total = (of: (one: Counted) => number) => counts.reduce((sum, one) => sum + of(one), 0);
  const days = total((one) => one.days);
  return {
    days,
    rawUtilization: days === 0 ? null : total((one) => one.insideMs) / (days * hours * 60 * MINUTE_MS), // prettier-ignore
    overrunMin: total((one) => one.outsideMs) / MINUTE_MS,
    turnover: summarise(counts.flatMap(({ turnovers }) => turnovers)),
    pauses: total((one) => one.pauses),
    overlaps: total((one) => one.overlaps),
  };
}

function dayOf(localMs: number): number {
  return Math.floor(localMs / DAY_MS);
}
