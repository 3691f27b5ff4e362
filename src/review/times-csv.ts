/**
 * The times of a case as a CSV file: one line a phase, step, held clock, named
 * time, interval, mark and late cue. Every line carries the mode, so that a rehearsal or a
 * demo can't be taken for a real case. Times of day are ISO 8601 in UTC.
 */
import { rowsToCsv } from '../domain';
import type { Entry, Outline, Stamp } from '../domain';
import { foldTimes, spanElapsed } from './durations';
import type { CaseTimes } from './durations';
import type { LateCue } from './late-cues';
import { listIntervals, listNamedTimes } from './named-times';
import { tabulatePhases } from './phase-times';

const COLUMNS = [
  'mode', 'case', 'procedure', 'side', 'kind', 'track', 'phase', 'item', 'round', 'from', 'to',
  'total_s', 'work_s', 'wait_s', 'clock_held_s', 'repeats', 'usual_s', 'estimated', 'note',
] as const; // prettier-ignore

type Cell = string | number;
/** One line of the file; columns that a kind has no use for stay empty. */
type Line = Partial<Record<(typeof COLUMNS)[number], Cell>>;

/** All times as CSV text. `now` ends what is still open; late cues take a replay to find, so they are given. */
export function caseTimesToCsv(
  entries: readonly Entry[],
  outline: Outline,
  now: Stamp,
  lateCues: readonly LateCue[] = [],
): string {
  const [opening] = entries;
  const setup = opening?.type === 'case.opened' ? opening.data : null;
  const common: Line = {
    mode: setup?.mode ?? 'unknown',
    case: opening?.caseId ?? '',
    procedure: outline.title,
    side: setup?.side ?? '',
  };
  const times = foldTimes(entries, outline);
  const lines = [
    ...phaseLines(times, outline, now),
    ...stepLines(times, outline, now),
    ...otherLines(times, entries, now),
    ...lateCues.map(lateLine),
  ];
  return rowsToCsv([
    COLUMNS,
    ...lines.map((line) => COLUMNS.map((column) => ({ ...common, ...line })[column] ?? '')),
  ]);
}

function phaseLines(times: CaseTimes, outline: Outline, now: Stamp): readonly Line[] {
  return tabulatePhases(times, outline, now).map((row) => ({
    kind: 'phase',
    track: row.track,
    phase: row.title,
    item: row.title,
    from: toIso(row.from),
    to: row.to ? toIso(row.to) : '',
    total_s: toSeconds(row.totalMs),
    work_s: toSeconds(row.workMs),
    wait_s: toSeconds(row.waitMs),
    clock_held_s: toSeconds(row.clockHeldMs),
    repeats: row.repeats,
    usual_s: row.usualMs === null ? '' : toSeconds(row.usualMs),
    estimated: yesNo(row.isEstimated),
  }));
}

function stepLines(times: CaseTimes, outline: Outline, now: Stamp): readonly Line[] {
  return times.steps.map((span) => {
    const phase = outline.phases.find(({ id, track }) => id === span.phase && track === span.track);
    const elapsed = spanElapsed(span, times.closedAt ?? now);
    return {
      kind: 'step',
      track: span.track,
      phase: phase?.title ?? span.phase,
      item: phase?.steps.find(({ id }) => id === span.step)?.title ?? span.step,
      round: span.round,
      from: toIso(span.from),
      to: span.to ? toIso(span.to) : '',
      total_s: toSeconds(elapsed.ms),
      work_s: toSeconds(elapsed.ms),
      estimated: yesNo(elapsed.isEstimated),
      note: span.ending ?? 'in hand',
    };
  });
}

function otherLines(times: CaseTimes, entries: readonly Entry[], now: Stamp): readonly Line[] {
  const holds = times.clockHolds.map((hold): Line => {
    const elapsed = spanElapsed(hold, times.closedAt ?? now);
    return {
      kind: 'clock held',
      item: hold.reason,
      from: toIso(hold.from),
      to: hold.to ? toIso(hold.to) : '',
      total_s: toSeconds(elapsed.ms),
      estimated: yesNo(elapsed.isEstimated),
    };
  });
  const named = listNamedTimes(entries).map(({ code, name, at, times: count }): Line => ({
    kind: 'named time',
    item: code,
    from: toIso(at),
    note: count > 1 ? `${name}, marked ${count} times` : name,
  }));
  const intervals = listIntervals(entries).map(({ from, to, name, ms, isEstimated }): Line => ({
    kind: 'interval',
    item: `${from} to ${to}`,
    total_s: ms === null ? '' : toSeconds(ms),
    estimated: yesNo(isEstimated),
    note: ms === null ? `${name}: marked in the other order` : name,
  }));
  const marks = times.marks
    .filter(({ kind }) => kind !== 'milestone')
    .map(({ kind, at, track, holdPoint, text }): Line => ({
      kind,
      track: track ?? '',
      item: holdPoint ?? '',
      from: toIso(at),
      note: text,
    }));
  return [...holds, ...named, ...intervals, ...marks];
}

function lateLine({ track, step, cues, from, to, ms, isEstimated, end }: LateCue): Line {
  return {
    kind: 'late cue',
    track,
    item: cues.join(', '),
    from: toIso(from),
    to: end === 'waiting' ? '' : toIso(to),
    total_s: toSeconds(ms),
    estimated: yesNo(isEstimated),
    note: `${step}, ${end}`,
  };
}

function toIso({ at }: Stamp): string {
  return new Date(at).toISOString();
}

/** Seconds with milliseconds kept, so that nothing is rounded away. */
function toSeconds(ms: number): number {
  return Math.round(ms) / 1000;
}

function yesNo(value: boolean): string {
  return value ? 'yes' : 'no';
}
