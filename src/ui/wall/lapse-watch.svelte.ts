/**
 * Remembers a read-back that ran out, so that the wall can say so for a while. The
 * view shows only what stands; that something lapsed is seen by comparing two views.
 */
import { elapsedBetween } from '../../domain';
import type { Stamp } from '../../domain';
import type { CaseView, ReadBackView } from '../../session';

/** How long does the wall say that a read-back lapsed? As long as a refusal. */
export const LAPSE_SHOWN_MS = 8_000;
/** By how much may the timer of the session and the clock of the screen differ? */
const TOLERANCE_MS = 300;

export class LapseWatch {
  #open: ReadBackView | null = null;
  #lapsed = $state.raw<{ readonly what: ReadBackView; readonly at: Stamp } | null>(null);

  /** Takes the newest view. */
  follow(view: CaseView | null, now: Stamp): void {
    const before = this.#open;
    const after = view?.readBack ?? null;
    this.#open = after;
    if (after) this.#lapsed = null;
    else if (before) this.#lapsed = hasLapsed(before, view, now) ? { what: before, at: now } : null;
  }

  /** The read-back to speak of, if it lapsed a short while ago. */
  shown(now: Stamp): ReadBackView | null {
    const lapsed = this.#lapsed;
    return lapsed && elapsedBetween(lapsed.at, now).ms < LAPSE_SHOWN_MS ? lapsed.what : null;
  }
}

function hasLapsed(readBack: ReadBackView, view: CaseView | null, now: Stamp): boolean {
  const stillWanted = view?.wanted.some(
    ({ capture, isConfirmed }) => capture === readBack.capture && !isConfirmed,
  );
  const ageMs = elapsedBetween(readBack.since, now).ms;
  return (stillWanted ?? false) && ageMs >= readBack.lapsesAfterMs - TOLERANCE_MS;
}
