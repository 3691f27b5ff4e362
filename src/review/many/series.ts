/** One duration over time, case by case: what the charts of change are drawn from. */
import type { CaseId } from '../../domain';
import type { CaseDigest } from '../digest/case-digest';
import { phaseKey } from './summary';

export interface SeriesPoint {
  readonly caseId: CaseId;
  /** When the case was opened. */
  readonly at: number;
  /** Place among the cases, from 1: the case number of the learning curve. */
  readonly number: number;
  readonly minutes: number;
}

/** The series of a phase ("track/phase") or, with null, of whole cases. First passes only where `withLoops` is false, so that a repeat is not taken for slowness. */
export function makeSeries(
  digests: readonly CaseDigest[],
  key: string | null,
  withLoops = true,
): readonly SeriesPoint[] {
  return digests.flatMap((digest, index): SeriesPoint[] => {
    const ms = key === null ? wholeCase(digest) : onePhase(digest, key, withLoops);
    return ms === null || ms <= 0
      ? []
      : [{ caseId: digest.caseId, at: digest.openedAt, number: index + 1, minutes: ms / 60_000 }];
  });
}

function wholeCase({ totalMs, isEstimated, outcome }: CaseDigest): number | null {
  return isEstimated || outcome === 'abandoned' ? null : totalMs;
}

function onePhase({ phases }: CaseDigest, key: string, withLoops: boolean): number | null {
  const phase = phases.find((it) => phaseKey(it) === key);
  if (!phase?.isWhole) return null;
  return withLoops ? phase.totalMs : (phase.passesMs[0] ?? null);
}
