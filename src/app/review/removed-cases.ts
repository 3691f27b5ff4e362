/** Which cases a person removed from this machine, for what is kept of them elsewhere. */
import { ok } from '../../domain';
import type { CaseId, Fault, Result } from '../../domain';
import type { RecordStore } from '../../record';

/** Removed cases that did not come back by a file of the record. Faults as for `listRemoved` and `listHeads`. */
export async function listGone(
  store: Pick<RecordStore, 'listRemoved' | 'listHeads'>,
): Promise<Result<ReadonlySet<CaseId>, Fault>> {
  const removed = await store.listRemoved();
  if (!removed.ok) return removed;
  const heads = await store.listHeads();
  if (!heads.ok) return heads;
  const there = new Set(heads.value.map(({ caseId }) => caseId));
  return ok(new Set(removed.value.map(({ caseId }) => caseId).filter((id) => !there.has(id))));
}
