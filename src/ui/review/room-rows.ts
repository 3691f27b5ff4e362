/** The rooms' table and what has to be said beneath it. Pure. */
import { LONGEST_TURNOVER_MIN } from '../../review';
import type { ManyBeside, RoomDays, RoomUse } from '../../review';
import { countToText } from '../parts/format';
import { minText } from './chart-text';

const NOT_NAMED = 'Not named';

/** One row a room, and all of them where there are several. */
export function roomRows({ rooms, all }: RoomUse): readonly (readonly string[])[] {
  const rows = rooms.map((room) => toRow(room.theatre || NOT_NAMED, room.caseCount, room));
  const caseCount = rooms.reduce((sum, room) => sum + room.caseCount, 0);
  return rooms.length > 1 ? [...rows, toRow('All', caseCount, all)] : rows;
}

function toRow(name: string, caseCount: number, it: RoomDays): readonly string[] {
  const { turnover } = it;
  return [
    name,
    String(caseCount),
    String(it.days),
    it.rawUtilization === null ? '–' : `${Math.round(100 * it.rawUtilization)} %`,
    (it.overrunMin / 60).toFixed(1),
    String(turnover?.count ?? 0),
    minText(turnover?.median),
    turnover ? `${minText(turnover.lowerQuartile)} to ${minText(turnover.upperQuartile)}` : '–',
    String(it.pauses),
  ];
}

/** What the figures rest on, each in one sentence. */
export function roomNotes({ room, filter }: ManyBeside): readonly string[] {
  const { procedureId, side, role, alternative, cards } = filter;
  const isNarrowed = [procedureId, side, role, alternative, cards].some((asked) => asked !== null);
  const unnamed = room.rooms.find(({ theatre }) => theatre === '')?.caseCount ?? 0;
  const { pauses, overlaps } = room.all;
  return [
    ...(isNarrowed ? ['Rooms are of all cases in this period, whatever else is asked for above: anybody’s case ends a turnover.'] : []),
    ...(pauses > 0 ? [`${countToText(pauses, 'gap', 'gaps')} of more than ${LONGEST_TURNOVER_MIN} minutes on one day ${pauses === 1 ? 'is' : 'are'} taken for a pause in the list, not for a turnover.`] : []),
    ...(unnamed > 0 ? [`${countToText(unnamed, 'case has', 'cases have')} no theatre’s name and ${unnamed === 1 ? 'is' : 'are'} counted as one room.`] : []),
    ...(overlaps > 0 ? [`${countToText(overlaps, 'case', 'cases')} began before the one before in the same room had left: perhaps two theatres under one name. Such minutes count once.`] : []),
    ...(room.unmarked > 0 ? [`In ${countToText(room.unmarked, 'case', 'cases')} in or out was not marked: opening and closing of the case stand for them.`] : []),
    ...(room.unusable > 0 ? [`${countToText(room.unusable, 'case is', 'cases are')} left out: patient out before in, or more than a day.`] : []),
  ]; // prettier-ignore
}
