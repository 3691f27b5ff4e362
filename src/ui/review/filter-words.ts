/** Days as they are picked, and what was asked for in words: on paper there is no bar of filters. Pure. */
import type { CaseFilter, FilterChoices } from '../../review';
import { dayToText } from '../parts/format';

/**
 * The first moment, local time, of a day as a date field gives it ("2026-03-29"), or of the
 * day after it: a day may have 23 or 25 hours. Null for an empty field.
 */
export function dayToMs(text: string, daysLater: 0 | 1): number | null {
  if (text === '') return null;
  const day = new Date(`${text}T00:00`);
  return day.setDate(day.getDate() + daysLater);
}

/** The filters that are set, but for the mode, which stands on the page; empty where none is. */
export function sayFilter(filter: CaseFilter, { procedures }: FilterChoices): readonly string[] {
  const { procedureId, side, role, from, to, alternative, cards } = filter;
  const title = procedures.find(({ id }) => id === procedureId)?.title ?? procedureId;
  return [
    title,
    side === null ? null : `${side} side`,
    role,
    alternative,
    cards === null ? null : `${cards} voice cards`,
    from === null ? null : `from ${dayToText(from)}`,
    // The end is the first moment that is not asked for.
    to === null ? null : `to ${dayToText(to - 1)}`,
  ].filter((words) => words !== null);
}
