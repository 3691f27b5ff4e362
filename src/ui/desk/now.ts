/**
 * What the nurse is needed for now, the most urgent first. The desk shows it in
 * one place, at the same spot, whatever it is. Pure.
 */
import type { CaseView, RefusalView } from '../../session';

export type NowCard =
  'read-back' | 'override' | 'clock-held' | 'refused' | 'closed' | 'complete' | 'wanted' | 'steps';

/** The cards of the now panel in order of urgency; a read-back lapses, so it leads. */
export function listNow(view: CaseView): readonly NowCard[] {
  if (view.status === 'closed') return ['closed'];
  const cards: NowCard[] = [];
  if (view.readBack) cards.push('read-back');
  if (view.overrideAsked) cards.push('override');
  if (view.clockHold) cards.push('clock-held');
  if (freshRefusal(view) && !view.overrideAsked) cards.push('refused');
  if (!view.readBack) cards.push(restingCard(view));
  return cards;
}

/** The refusal to show large: the last thing that happened, else an attempt at a hold point that is still unanswered. */
export function freshRefusal(view: CaseView): RefusalView | null {
  const newest = view.refusals.at(-1);
  return newest?.seq === view.entryCount - 1 ? newest : view.heldAttempt;
}

function restingCard(view: CaseView): NowCard {
  if (view.status === 'complete') return 'complete';
  return view.wanted.some(({ isConfirmed }) => !isConfirmed) ? 'wanted' : 'steps';
}
