/** Times as the wall writes them, and the expected end. Pure; a `now` comes in. */
import { elapsedBetween } from '../../domain';
import type { Stamp } from '../../domain';
import type { ExpectedEnd } from '../../review';
import type { CaseView, PhaseView } from '../../session';

const MINUTE_MS = 60_000;
/** How much more than the usual time does the bar have room for before its tick must move? */
const BAR_HEADROOM = 1.5;

/**
 * A length of time: "4:05", "1:07:45". With hours always written, "0:13:39", it can't
 * be taken for a time of day.
 */
export function durationToText(ms: number, withHours = false): string {
  const seconds = Math.max(0, Math.floor(ms / 1000));
  const two = (value: number) => String(value).padStart(2, '0');
  const hours = Math.floor(seconds / 3600);
  const minutes = Math.floor(seconds / 60) % 60;
  return hours > 0 || withHours
    ? `${hours}:${two(minutes)}:${two(seconds % 60)}`
    : `${minutes}:${two(seconds % 60)}`;
}

/** A time of day in 24 hours: "14:32". */
export function timeOfDayToText(at: number): string {
  const time = new Date(at);
  return `${String(time.getHours()).padStart(2, '0')}:${String(time.getMinutes()).padStart(2, '0')}`;
}

/** A phase's time against what is usual; shares of the bar are from 0 to 1. */
export interface PhaseTime {
  readonly elapsed: string;
  /** "usual 6 min", "usual 6:30"; empty where nobody has said. */
  readonly usual: string;
  readonly fill: number;
  readonly tick: number | null;
  readonly isOver: boolean;
}

/** How far a phase has come. */
export function phaseTimeOf({ since, usualMs }: PhaseView, now: Stamp): PhaseTime {
  const { ms } = elapsedBetween(since, now);
  const elapsed = durationToText(ms);
  if (usualMs === null) return { elapsed, usual: '', fill: 0, tick: null, isOver: false };
  const whole = usualMs % MINUTE_MS === 0;
  const usual = whole ? `${usualMs / MINUTE_MS} min` : durationToText(usualMs);
  const full = Math.max(usualMs * BAR_HEADROOM, ms);
  return {
    elapsed,
    usual: `usual ${usual}`,
    fill: ms / full,
    tick: usualMs / full,
    isOver: ms > usualMs,
  };
}

/** "Done about" counts in steps of this many minutes: nobody should read more into it. */
const ROUND_END_MS = 5 * MINUTE_MS;

/** The expected end as the wall shows it; never rounded into the past. */
export function endToText({ endAt }: ExpectedEnd, now: Stamp): string {
  const nearest = Math.round(endAt / ROUND_END_MS) * ROUND_END_MS;
  return timeOfDayToText(nearest < now.at ? Math.ceil(endAt / ROUND_END_MS) * ROUND_END_MS : nearest); // prettier-ignore
}

/** Between which times four of five such cases end: "14:20–14:45". */
export function endRangeToText({ lowAt, highAt }: ExpectedEnd): string {
  const low = Math.floor(lowAt / ROUND_END_MS) * ROUND_END_MS;
  const high = Math.ceil(highAt / ROUND_END_MS) * ROUND_END_MS;
  return `${timeOfDayToText(low)}–${timeOfDayToText(high)}`;
}

/** How long the case has run, or ran. */
export function caseTimeOf(view: CaseView, now: Stamp): string {
  return durationToText(elapsedBetween(view.openedAt, view.closedAt ?? now).ms, true);
}
