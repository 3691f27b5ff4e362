/**
 * Which sizes and choices stand at the end of a record, as the wall shows them: confirmed,
 * not taken back, not cleared by going back, neither in doubt nor being changed.
 */
import type { CaptureId, Entry } from '../domain';
import { contextOf, loadRecordedProcedure, replay } from '../procedure';

/** The captures that stand; none where the record's procedure can't be run, or an entry does not follow. */
export function listSettledCaptures(entries: readonly Entry[]): readonly CaptureId[] {
  const [opening] = entries;
  if (opening?.type !== 'case.opened') return [];
  const compiled = loadRecordedProcedure(opening.data.procedure);
  const state = compiled.ok ? replay(compiled.value, entries) : null;
  if (!state?.ok) return [];
  const { confirmed, doubtful, changing } = contextOf(state.value);
  return (Object.keys(confirmed) as CaptureId[]).filter(
    (capture) => !(capture in doubtful) && capture !== changing,
  );
}
