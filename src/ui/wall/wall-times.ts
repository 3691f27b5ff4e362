/** Times as the wall writes them, and the expected end. Pure; a `now` comes in. */
import { elapsedBetween } from '../../domain';
import type { Stamp } from '../../domain';
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

/** When the case may be done: what is left of the phase in hand and what is usual for the rest. */
export function expectedEndOf(view: CaseView, now: Stamp): number | null {
  const [main] = view.tracks;
  if (view.usualRestMs === null || view.status !== 'running' || !main) return null;
  const planned = view.outline.phases.find(({ id }) => id === phaseIdOf(main));
  const usualMs = planned?.usualMin ? planned.usualMin * MINUTE_MS : null;
  if (usualMs === null) return null;
  const spentMs = main.phase ? elapsedBetween(main.phase.since, now).ms : 0;
  return now.at + Math.max(0, usualMs - spentMs) + view.usualRestMs;
}

/** How long the case has run, or ran. */
export function caseTimeOf(view: CaseView, now: Stamp): string {
  return durationToText(elapsedBetween(view.openedAt, view.closedAt ?? now).ms, true);
}

function phaseIdOf({ steps, current }: CaseView['tracks'][number]): string | undefined {
  return steps.find(({ id }) => id === current?.step)?.phase;
}
