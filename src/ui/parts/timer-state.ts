/** How long a timer has run and how long until it is due. Pure; a `now` comes in. */
import { elapsedBetween } from '../../domain';
import type { Stamp } from '../../domain';
import type { TimerView } from '../../session';

/** A running timer at a moment; `leftMs` is null where it will not come due, never below zero. */
export function timerStateOf(
  { since, due }: Pick<TimerView, 'since' | 'due'>,
  now: Stamp,
): { readonly ranMs: number; readonly leftMs: number | null } {
  const ranMs = elapsedBetween(since, now).ms;
  const leftMs = due && Math.max(0, due.afterMs - elapsedBetween(due.from, now).ms);
  return { ranMs, leftMs };
}
