/**
 * What the nurse is needed for now, the most urgent first. The desk shows it in
 * one place, at the same spot, whatever it is. Pure.
 */
import type { ChecklistView, CountView } from '../../session';
import type { CaseView, RefusalView } from '../../session';

export type NowCard =
  | 'read-back'
  | 'override'
  | 'clock-held'
  | 'refused'
  | 'closed'
  | 'complete'
  | 'due'
  | 'checklist'
  | 'count'
  | 'wanted'
  | 'steps';

/** The cards of the now panel in order of urgency; a read-back lapses, so it leads. */
export function listNow(view: CaseView): readonly NowCard[] {
  if (view.status === 'closed') return ['closed'];
  const cards: NowCard[] = [];
  if (view.readBack) cards.push('read-back');
  if (view.overrideAsked) cards.push('override');
  if (view.clockHold) cards.push('clock-held');
  if (freshRefusal(view) && !view.overrideAsked) cards.push('refused');
  if (view.timers.some(({ isDue }) => isDue)) cards.push('due');
  if (view.readBack) return cards;
  const resting = restingCards(view);
  return [...cards, ...resting];
}

/** The checklist that is being gone through. */
export function checklistNow({ checklists }: CaseView): ChecklistView | null {
  return checklists[0] ?? null;
}

/** The count that is being taken: one with lines still open first, else one that differs. */
export function countNow({ counts }: CaseView): CountView | null {
  const now = counts.filter(({ isNow }) => isNow);
  return now.find(({ items }) => items.some(({ result }) => result !== 'agrees')) ?? now[0] ?? null;
}

/** The refusal to show large: the last thing that happened, else an attempt at a hold point that is still unanswered. */
export function freshRefusal(view: CaseView): RefusalView | null {
  const newest = view.refusals.at(-1);
  return newest?.seq === view.entryCount - 1 ? newest : view.heldAttempt;
}

function restingCards(view: CaseView): readonly NowCard[] {
  if (view.status === 'complete') return ['complete'];
  const cards: NowCard[] = [];
  if (checklistNow(view)) cards.push('checklist');
  if (countNow(view)) cards.push('count');
  if (view.wanted.some(({ isConfirmed }) => !isConfirmed)) cards.push('wanted');
  return cards.length > 0 ? cards : ['steps'];
}
