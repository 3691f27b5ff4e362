/**
 * A phase against the team's own earlier cases: between which durations four of five
 * of them lie, and on which side of that this case is. Percentiles R6, as everywhere.
 */
import type { CaseDigest } from './digest/case-digest';
import { phaseKey } from './many/phase-summary';
import { summarise } from './statistics/percentile';

/** The team's own usual of one phase, in milliseconds. */
export interface UsualRange {
  readonly count: number;
  readonly medianMs: number;
  /** The 10th and 90th percentile; null while there are too few cases for them. */
  readonly lowMs: number | null;
  readonly highMs: number | null;
}

/** Below this the 10th percentile of definition R6 lies outside the sample. */
const LEAST_CASES = 9;

/** The ranges by phase ("track/phase"), of phases that were done whole. */
export function findUsualRanges(digests: readonly CaseDigest[]): ReadonlyMap<string, UsualRange> {
  const found = new Map<string, number[]>();
  for (const { phases, outcome } of digests) {
    if (outcome === 'abandoned') continue;
    for (const phase of phases) {
      if (!phase.isWhole) continue;
      const key = phaseKey(phase);
      found.set(key, [...(found.get(key) ?? []), phase.totalMs]);
    }
  }
  return new Map(
    [...found].flatMap(([key, values]): [string, UsualRange][] => {
      const sum = summarise(values);
      if (!sum) return [];
      const hasRange = sum.count >= LEAST_CASES;
      return [
        [
          key,
          {
            count: sum.count,
            medianMs: sum.median,
            lowMs: hasRange ? sum.tenth : null,
            highMs: hasRange ? sum.ninetieth : null,
          },
        ],
      ];
    }),
  );
}

/** On which side of the usual range a duration lies; null inside it, or where there is none. */
export function compareToUsual(
  totalMs: number,
  range: UsualRange | undefined,
): 'longer' | 'shorter' | null {
  if (!range || range.lowMs === null || range.highMs === null) return null;
  if (totalMs > range.highMs) return 'longer';
  if (totalMs < range.lowMs) return 'shorter';
  return null;
}
