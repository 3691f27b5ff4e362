/**
 * What cost time in one case: held clock by reason, what was done again, and phases that
 * took longer than usual once those two are taken off. What another track than the main
 * one took runs beside it: it stands apart, and is not to be added.
 */
import type { TrackId } from '../domain';
import type { CaseDigest, PhaseDigest } from './digest/case-digest';
import { phaseKey } from './many/phase-summary';
import type { UsualRange } from './usual-range';

export interface CostRow {
  readonly kind: 'held' | 'again' | 'longer';
  /** The reason, or the phase. */
  readonly text: string;
  readonly count: number;
  readonly ms: number;
  /** On another track than the main one, whose minutes it ran beside. */
  readonly isBeside: boolean;
}

type PhaseCost = Omit<CostRow, 'isBeside'>;

/** Less is no loss that anybody would look for. */
const LEAST_MS = 60_000;

/** Those of the main track first, the largest first. The team's own median is what counts as usual; before it has one, the procedure's time. */
export function listCosts(
  { phases, holds }: Pick<CaseDigest, 'phases' | 'holds'>,
  ranges: ReadonlyMap<string, UsualRange>,
  mainTrack: TrackId | undefined,
): readonly CostRow[] {
  const held = new Map<string, { count: number; ms: number }>();
  for (const { reason, ms } of holds) {
    const row = held.get(reason) ?? { count: 0, ms: 0 };
    held.set(reason, { count: row.count + 1, ms: row.ms + ms });
  }
  return [
    ...[...held].map(([text, row]): CostRow => ({ kind: 'held', text, ...row, isBeside: false })),
    ...phases.flatMap((phase) =>
      [...costOfRepeats(phase), ...costOfSlowness(phase, ranges)].map((row): CostRow => {
        return { ...row, isBeside: phase.track !== mainTrack };
      }),
    ),
  ]
    .filter(({ ms }) => ms >= LEAST_MS)
    .sort((a, b) => Number(a.isBeside) - Number(b.isBeside) || b.ms - a.ms);
}

function repeatMs({ passesMs }: PhaseDigest): number {
  return passesMs.slice(1).reduce((sum, ms) => sum + ms, 0);
}

function costOfRepeats(phase: PhaseDigest): readonly PhaseCost[] {
  const count = phase.passesMs.length - 1;
  return count > 0 ? [{ kind: 'again', text: phase.title, count, ms: repeatMs(phase) }] : [];
}

function costOfSlowness(
  phase: PhaseDigest,
  ranges: ReadonlyMap<string, UsualRange>,
): readonly PhaseCost[] {
  const usual = ranges.get(phaseKey(phase))?.medianMs ?? phase.usualMs;
  if (usual === null) return [];
  const ms = phase.totalMs - phase.heldMs - repeatMs(phase) - usual;
  return [{ kind: 'longer', text: phase.title, count: 1, ms }];
}
