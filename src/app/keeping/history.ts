/** Other cases of the same procedure: for the forecast of a running case and the usual times beside a closed one. */
import { ok } from '../../domain';
import type { CaseId, Fault, ProcedureId, Result } from '../../domain';
import type { RecordStore } from '../../record';
import { digestCase } from '../../review';
import type { CaseDigest } from '../../review';
import type { CaseView } from '../../session';

/** No more than these, the latest ones: the forecast looks back no further. */
const MOST_CASES = 60;
/** Among how many of the latest cases they are looked for: a team does other operations as well. */
const LOOKED_AT = 300;

/** Digests of closed cases of the same procedure and mode. A case that can't be read is left out: a forecast can do without it. */
export async function readHistory(
  store: RecordStore,
  { view, procedureId }: { readonly view: CaseView; readonly procedureId?: ProcedureId },
): Promise<Result<readonly CaseDigest[], Fault>> {
  const listed = await store.listCases(LOOKED_AT);
  if (!listed.ok) return listed;
  const { mode } = view;
  const own = procedureId ?? listed.value.find(({ caseId }) => caseId === view.caseId)?.procedureId;
  const ids: readonly CaseId[] = listed.value
    .filter((line) => line.isClosed && line.procedureId === own && line.mode === mode)
    .map(({ caseId }) => caseId)
    .filter((caseId) => caseId !== view.caseId)
    .slice(0, MOST_CASES);
  const digests: CaseDigest[] = [];
  for (const caseId of ids) {
    const read = await store.read(caseId);
    const digest = read.ok ? digestCase(read.value.entries, view.outline) : null;
    if (digest) digests.push(digest);
  }
  return ok(digests);
}
