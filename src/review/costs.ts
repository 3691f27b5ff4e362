/**
 * What cost time in one case: held clock by reason, what was done again, and phases that
 * took longer than usual once those two are taken off, so that no minute counts twice.
 */
import type { CaseDigest, PhaseDigest } from './digest/case-digest';
import { phaseKey } from './many/phase-summary';
import type { UsualRange } from './usual-range';

export interface CostRow {
  readonly kind: 'held' | 'again' | 'longer';
  /** The reason, or the phase. */
  readonly text: string;
  readonly count: number;
  readonly ms: number;
}

/** Less is no loss that anybody would look for. */
const LEAST_MS = 60_000;

/** The largest first. The team's own median is what counts as usual; before it has one, the procedure's time. */
export function listCosts(
  { phases, holds }: Pick<CaseDigest, 'phases' | 'holds'>,
  ranges: ReadonlyMap<string, UsualRange>,
): readonly CostRow[] {
  const held = new Map<string, { count: number; ms: number }>();
  for (const { reason, ms } of holds) {
    const row = held.get(reason) ?? { count: 0, ms: 0 };
    held.set(reason, { count: row.count + 1, ms: row.ms + ms });
  }
  return [
    ...[...held].map(([text, row]): CostRow => ({ kind: 'held', text, ...row })),
    ...phases.flatMap((phase) => [...costOfRepeats(phase), ...costOfSlowness(phase, ranges)]),
  ]
    .filter(({ ms }) => ms >= LEAST_MS)
    .sort((a, b) => b.ms - a.ms);
}

function repeatMs({ passesMs }: PhaseDigest): number {
  return passesMs.slice(1).reduce((sum, ms) => sum + ms, 0);
}

function costOfRepeats(phase: PhaseDigest): readonly CostRow[] {
  const count = phase.passesMs.length - 1;
  return count > 0 ? [{ kind: 'again', text: phase.title, count, ms: repeatMs(phase) }] : [];
}

function costOfSlowness(
  phase: PhaseDigest,
  ranges: ReadonlyMap<string, UsualRange>,
): readonly CostRow[] {
  const usual = ranges.get(phaseKey(phase))?.medianMs ?? phase.usualMs;
  if (usual === null) return [];
  const ms = phase.totalMs - phase.heldMs - repeatMs(phase) - usual;
  return [{ kind: 'longer', text: phase.title, count: 1, ms }];
}
