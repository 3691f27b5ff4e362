/**
 * The numbers behind the picture of a case: phases, steps, waits and marks of each
 * track on one axis. Positions are milliseconds since the case was opened.
 */
import type { Entry, Outline, PhaseId, Stamp, StepId, TrackId } from '../domain';
import { CaseAxis } from './case-axis';
import { foldTimes } from './durations';
import type { Mark } from './case-marks';
import type { CaseTimes } from './durations';
import type { StepSpan } from './step-spans';
import { lateCueToMark } from './late-cues';
import type { LateCue } from './late-cues';
import { tabulatePhases } from './phase-times';

export interface TimelineStep {
  readonly step: StepId;
  readonly title: string;
  readonly round: number;
  readonly ending: StepSpan['ending'];
  readonly fromMs: number;
  readonly toMs: number;
}

export interface TimelinePhase {
  readonly phase: PhaseId;
  readonly title: string;
  readonly fromMs: number;
  readonly toMs: number;
}

export interface TimelineLane {
  readonly track: TrackId;
  readonly title: string;
  readonly phases: readonly TimelinePhase[];
  readonly steps: readonly TimelineStep[];
}

export interface TimelineMark extends Mark {
  readonly atMs: number;
}

export interface Timeline {
  readonly endMs: number;
  readonly lanes: readonly TimelineLane[];
  readonly clockHolds: readonly {
    readonly reason: string;
    readonly fromMs: number;
    readonly toMs: number;
  }[];
  readonly marks: readonly TimelineMark[];
  /** Round wall times along the axis. */
  readonly ticks: readonly { readonly atMs: number; readonly wallMs: number }[];
}

/** Distances between ticks that people count in, in minutes. */
const TICK_MINUTES = [1, 2, 5, 10, 15, 30, 60, 120, 240] as const;
/** More labels than this would touch each other. */
const MOST_TICKS = 10;
const MINUTE_MS = 60_000;

/**
 * Makes the timeline. `now` ends what is still open; `offsetMin` is local time minus UTC, so that
 * ticks fall on round local times. Late cues take a replay to find, so they are given.
 */
export function makeTimeline(
  entries: readonly Entry[],
  outline: Outline,
  now: Stamp,
  offsetMin = 0,
  lateCues: readonly LateCue[] = [],
): Timeline {
  const times = foldTimes(entries, outline);
  const axis = new CaseAxis(entries);
  const end = times.closedAt ?? now;
  const place = (stamp: Stamp) => axis.positionOf(stamp);
  const endMs = Math.max(place(end), axis.endMs);
  return {
    endMs,
    lanes: outline.tracks.map(({ id, title }) => ({
      track: id,
      title,
      phases: placePhases(times, outline, end, id, place),
      steps: times.steps
        .filter(({ track }) => track === id)
        .map((span) => placeStep(span, outline, end, place)),
    })),
    clockHolds: times.clockHolds.map(({ reason, from, to }) => ({
      reason,
      fromMs: place(from),
      toMs: place(to ?? end),
    })),
    marks: [...times.marks, ...lateCues.map(lateCueToMark)].map((mark) => ({
      ...mark,
      atMs: place(mark.at),
    })),
    ticks: listTicks(axis, endMs, offsetMin),
  };
}

function placePhases(
  times: CaseTimes,
  outline: Outline,
  end: Stamp,
  track: TrackId,
  place: (stamp: Stamp) => number,
): readonly TimelinePhase[] {
  return tabulatePhases(times, outline, end)
    .filter((row) => row.track === track)
    .map(({ phase, title, from, to }) => ({
      phase,
      title,
      fromMs: place(from),
      toMs: place(to ?? end),
    }));
}

function placeStep(
  { step, round, ending, from, to }: StepSpan,
  outline: Outline,
  end: Stamp,
  place: (stamp: Stamp) => number,
): TimelineStep {
  const title = outline.phases.flatMap(({ steps }) => steps).find(({ id }) => id === step)?.title;
  return {
    step,
    title: title ?? step,
    round,
    ending,
    fromMs: place(from),
    toMs: place(to ?? end),
  };
}

function listTicks(axis: CaseAxis, endMs: number, offsetMin: number): Timeline['ticks'] {
  const stepMs =
    (TICK_MINUTES.find((minutes) => endMs / (minutes * MINUTE_MS) <= MOST_TICKS) ?? 480) *
    MINUTE_MS;
  const ticks: { atMs: number; wallMs: number }[] = [];
  const shift = offsetMin * MINUTE_MS;
  const first = Math.ceil((axis.wallAt(0) + shift) / stepMs) * stepMs - shift;
  for (let wallMs = first; wallMs <= axis.wallAt(endMs); wallMs += stepMs) {
    const atMs = axis.positionOfWall(wallMs);
    if (atMs !== null && atMs <= endMs) ticks.push({ atMs, wallMs });
  }
  return ticks;
}
