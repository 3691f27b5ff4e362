/**
 * Where an entry lies in the database: under [caseId, seq]. Keys of one case stand
 * together, in order, because IndexedDB compares arrays element by element and puts
 * numbers before arrays.
 */
import type { CaseId } from '../domain';

/** The key of one entry. */
export function entryKey(caseId: CaseId, seq: number): IDBValidKey {
  return [caseId, seq];
}

/** All keys of one case. */
export function caseRange(caseId: CaseId): IDBKeyRange {
  return IDBKeyRange.bound([caseId], [caseId, []]);
}

/** Keys of one case from a position on, up to but not with another. */
export function partRange(caseId: CaseId, from: number, to: number): IDBKeyRange {
  return IDBKeyRange.bound(
    [caseId, from],
    Number.isFinite(to) ? [caseId, to] : [caseId, []],
    false,
    true,
  );
}

/** All keys after those of a case. */
export function rangeAfter(caseId: CaseId): IDBKeyRange {
  return IDBKeyRange.lowerBound([caseId, []], true);
}

/** The case of a key. Throws on a key that this program did not make. */
export function keyToCaseId(key: IDBValidKey): CaseId {
  return splitKey(key).caseId;
}

/** The position of a key. Throws on a key that this program did not make. */
export function keyToSeq(key: IDBValidKey): number {
  return splitKey(key).seq;
}

function splitKey(key: IDBValidKey): { readonly caseId: CaseId; readonly seq: number } {
  const [caseId, seq] = Array.isArray(key) ? key : [];
  if (typeof caseId !== 'string' || typeof seq !== 'number') {
    throw new Error(`record key: expected [caseId, seq], received ${JSON.stringify(key)}`);
  }
  return { caseId: caseId as CaseId, seq };
}
