/**
 * Counts of swabs, sharps and instruments: what should be there, and whether what was
 * counted agrees. Common practice: a first count, every addition at once, a count before
 * closure, a last one, and one when the person who counts is relieved; a difference is
 * told at once and settled before sign-out.
 */
import { asId } from '../domain';
import type { CountId, CountItemId } from '../domain';
import type { CaseContext } from './context';
import type { CountSpec, Procedure } from './format';

/** The largest number that can be counted. */
const MOST_COUNTED = 999;

/** How many of an item should be there; null before its first count. */
export function expectedOf({ handedOut }: CaseContext, item: CountItemId): number | null {
  const out = handedOut[item];
  return out ? out.first + out.added : null;
}

/** The count of a name, if the procedure has it. */
export function countSpecOf({ counts }: Procedure, count: CountId): CountSpec | undefined {
  return counts.find(({ id }) => id === count);
}

/** Items that a count still lacks. */
export function listUncounted(
  { countItems }: Procedure,
  { counted }: CaseContext,
  count: CountId,
): readonly Procedure['countItems'][number][] {
  const results = counted[count] ?? {};
  return countItems.filter(({ id }) => !(id in results));
}

/** Whether every item of a count was counted and agrees; a relief count only where one is due. */
export function isCountSettled(
  procedure: Procedure,
  context: CaseContext,
  count: CountId,
): boolean {
  const results = context.counted[count] ?? {};
  if (Object.values(results).includes('differs')) return false;
  if (countSpecOf(procedure, count)?.kind === 'relief') return !context.isReliefDue;
  return listUncounted(procedure, context, count).length === 0;
}

/** Whether a number can be a count at all. */
export function isCountable(value: number | null): boolean {
  return value === null || (Number.isInteger(value) && value >= 0 && value <= MOST_COUNTED);
}

/** The counts that can be recorded now: in hand, behind, or due by relief. */
export function listOpenCounts(
  procedure: Procedure,
  context: CaseContext,
  countsReached: readonly CountId[],
): readonly CountSpec[] {
  return procedure.counts.filter((count) =>
    count.kind === 'relief'
      ? context.isReliefDue || !isCountSettled(procedure, context, asId<CountId>(count.id))
      : countsReached.some((id) => id === count.id),
  );
}
