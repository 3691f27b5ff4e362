/**
 * A case as it can be taken up again. A damaged end is put beside the case, unchanged,
 * and a fact says so for ever; what a newer program wrote is never touched.
 */
import { err, fault, ok } from '../domain';
import type { CaseId, Entry, Fact, Fault, Result } from '../domain';
import type { RecordStore } from '../record';

/** Entries to go on from, and what to add to them before anything else. */
export interface TakenUp {
  readonly entries: readonly Entry[];
  readonly mending: readonly Fact[];
}

/** Reads a case to go on with it. Faults: those of reading, and a case without a readable beginning. */
export async function takeUp(store: RecordStore, caseId: CaseId): Promise<Result<TakenUp, Fault>> {
  const read = await store.read(caseId);
  if (!read.ok) return read;
  const { entries, problem, isReadOnly } = read.value;
  if (!isReadOnly) return ok({ entries, mending: [] });
  const why = problem ?? fault('record-unreadable');
  if (why.code !== 'record-unreadable' || entries.length === 0) return err(why);
  const from = entries.length;
  const moved = await store.setAside(caseId, from);
  if (!moved.ok) return moved;
  const data = { from, setAside: moved.value, detail: why.params['detail'] ?? '' };
  return ok({ entries, mending: [{ type: 'record.mended', data }] });
}
