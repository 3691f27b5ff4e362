/**
 * From spans to the timing table: each phase of each track, how long it took from
 * its first step to its last, how much of that was work, waiting and held clock.
 */
import { elapsedBetween } from '../domain';
import type { Outline, PhaseId, Stamp, TrackId } from '../domain';
import { spanElapsed } from './durations';
import type { CaseTimes } from './durations';
import type { StepSpan } from './step-spans';

/** One row of the timing table. All durations in milliseconds. */
export interface PhaseRow {
  readonly track: TrackId;
  readonly phase: PhaseId;
  readonly title: string;
  readonly from: Stamp;
  /** Null while the phase runs. */
  readonly to: Stamp | null;
  /** From first step to last, waiting and held clock included. */
  readonly totalMs: number;
  /** Steps in hand; overlaps of a track with itself can't occur. */
  readonly workMs: number;
  /** Between steps: held at a hold point, or waiting for the words that begin one. */
  readonly waitMs: number;
  /** Clock held by order while the phase ran. */
  readonly clockHeldMs: number;
  /** Steps done more than once. */
  readonly repeats: number;
  readonly usualMs: number | null;
  /** True where a restart lies inside, so that the wall clock had to be used. */
  readonly isEstimated: boolean;
}

/** Makes the table in the order of the outline; phases that never began are left out. */
export function tabulatePhases(
  times: CaseTimes,
  outline: Outline,
  now: Stamp,
): readonly PhaseRow[] {
  const end = times.closedAt ?? now;
  return outline.phases.flatMap(({ id, track, title, usualMin }) => {
    const spans = times.steps.filter(({ phase, track: of }) => phase === id && of === track);
    const [first] = spans;
    const last = spans.at(-1);
    if (!first || !last) return [];
    const isLeft = hasLeft(times, outline, last);
    const to = isLeft ? last.to : null;
    const total = elapsedBetween(first.from, to ?? end);
    const parts = spans.map((span) => spanElapsed(span, end));
    const workMs = sum(parts.map(({ ms }) => ms));
    const usualMs = usualMin === null ? null : usualMin * 60_000;
    return [
      {
        track, phase: id, title, from: first.from, to,
        totalMs: total.ms,
        workMs,
        waitMs: Math.max(0, total.ms - workMs),
        clockHeldMs: heldWithin(times, first.from, to ?? end),
        repeats: spans.filter(({ round }) => round > 1).length,
        usualMs,
        isEstimated: total.isEstimated || parts.some(({ isEstimated }) => isEstimated),
      },
    ]; // prettier-ignore
  });
}

/** A phase is left once another one of its track has begun, its track has ended, or the case was closed. */
function hasLeft(times: CaseTimes, outline: Outline, last: StepSpan): boolean {
  if (times.closedAt) return true;
  const finalStep = outline.phases.findLast(({ track }) => track === last.track)?.steps.at(-1);
  if (last.ending === 'finished' && last.step === finalStep?.id) return true;
  const later = times.steps.slice(times.steps.indexOf(last) + 1);
  return last.to !== null && later.some(({ track }) => track === last.track);
}

function heldWithin({ clockHolds }: CaseTimes, from: Stamp, to: Stamp): number {
  return sum(
    clockHolds.map((hold) => {
      const start = isLater(hold.from, from) ? hold.from : from;
      const stop = hold.to && isLater(to, hold.to) ? hold.to : to;
      return isLater(stop, start) ? elapsedBetween(start, stop).ms : 0;
    }),
  );
}

/** Order of two stamps: by the monotonic clock inside a run, which a corrected wall clock can't upset. */
function isLater(stamp: Stamp, than: Stamp): boolean {
  return stamp.run === than.run ? stamp.mono > than.mono : stamp.at > than.at;
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, next) => total + next, 0);
}
