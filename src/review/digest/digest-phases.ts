/** The phases of a case with their passes: what was done once, and what a loop made of it. */
import type { Outline, Stamp } from '../../domain';
import type { CaseAxis } from '../case-axis';
import type { CaseTimes } from '../durations';
import { tabulatePhases } from '../phase-times';
import type { PhaseRow } from '../phase-times';
import type { StepSpan } from '../step-spans';
import type { PhaseDigest } from './case-digest';

/** Endings of a step after which its phase is no measure of how long it takes. */
const CUTS: readonly StepSpan['ending'][] = ['skipped', 'moved', 'closed'];

/** Phases in the order in which they began on each track. */
export function digestPhases(
  times: CaseTimes,
  outline: Outline,
  axis: CaseAxis,
  end: Stamp,
): readonly PhaseDigest[] {
  const rows = tabulatePhases(times, outline, end);
  return rows.map((row): PhaseDigest => {
    const fromMs = axis.positionOf(row.from);
    const toMs = endOfSpan(row, rows, axis, end);
    const ending = endingOf(times, row);
    return {
      track: row.track,
      phase: row.phase,
      title: row.title,
      fromMs,
      totalMs: row.totalMs,
      workMs: row.workMs,
      waitMs: row.waitMs,
      heldMs: row.clockHeldMs,
      passesMs: cutIntoPasses(fromMs, toMs, loopsWithin(times, outline, row, axis)),
      usualMs: row.usualMs,
      isWhole: !row.isEstimated && ending === 'done',
      ending,
      isEstimated: row.isEstimated,
    };
  });
}

/** Where the next phase of the track begins; for the last one, where its own last step ended. */
function endOfSpan(row: PhaseRow, rows: readonly PhaseRow[], axis: CaseAxis, end: Stamp): number {
  const fromMs = axis.positionOf(row.from);
  const later = rows
    .filter(({ track }) => track === row.track)
    .map(({ from }) => axis.positionOf(from))
    .filter((atMs) => atMs > fromMs);
  return later.length > 0 ? Math.min(...later) : axis.positionOf(row.to ?? end);
}

/** Moments at which a loop went back to a step of this phase. */
function loopsWithin(
  { marks }: CaseTimes,
  outline: Outline,
  row: PhaseRow,
  axis: CaseAxis,
): readonly number[] {
  const titles = outline.phases
    .filter(({ id, track }) => id === row.phase && track === row.track)
    .flatMap(({ steps }) => steps.map(({ title }) => title));
  return marks
    .filter(
      ({ kind, track, text }) => kind === 'loop' && track === row.track && titles.includes(text),
    )
    .map(({ at }) => axis.positionOf(at));
}

function cutIntoPasses(fromMs: number, toMs: number, cuts: readonly number[]): readonly number[] {
  const inside = cuts.filter((cut) => cut > fromMs && cut < toMs);
  const bounds = [fromMs, ...inside, toMs];
  return bounds.slice(1).map((to, index) => to - (bounds[index] ?? to));
}

/** Whether it was done, goes on, or anything of it was left out or cut off. */
function endingOf(
  { steps, closedAt }: CaseTimes,
  { phase, track, to }: PhaseRow,
): NonNullable<PhaseDigest['ending']> {
  const spans = steps.filter((span) => span.phase === phase && span.track === track);
  if (spans.some(({ ending }) => CUTS.includes(ending))) return 'cut';
  return to === null && closedAt === null ? 'open' : 'done';
}
