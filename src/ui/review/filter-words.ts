/** What was asked for, in words: on paper there is no bar of filters. Pure. */
import type { CaseFilter, FilterChoices } from '../../review';
import { dayToText } from '../parts/format';

const DAY_MS = 86_400_000;

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
    to === null ? null : `to ${dayToText(to - DAY_MS)}`,
  ].filter((words) => words !== null);
}
