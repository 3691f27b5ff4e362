/** Reads the closed cases that the look back does not know yet out of the record, one by one, and keeps them in pieces. */
import type { Fault } from '../../domain';
import type { RecordStore } from '../../record';
import type { CaseDigest } from '../../review';
import type { CaseReader } from '../keeping/case-reader';
import { PIECE } from './digest-store';
import type { ReviewShelf } from './review-shelf';
import type { WorkRun } from './review-work';

export interface ReadingParts {
  readonly shelf: ReviewShelf;
  readonly reader: CaseReader;
  /** Called after each case. */
  readonly onCase: () => void;
}

/** Reads until all is read or the run is over; what was read is kept either way. Faults: the record's, and `review-cache-lost`. */
export async function readNewCases(
  store: RecordStore,
  run: WorkRun,
  { shelf, reader, onCase }: ReadingParts,
): Promise<Fault | null> {
  const listed = await store.listHeads();
  if (!listed.ok) return listed.error;
  const wanted = listed.value.filter(
    ({ caseId, isClosed }) => isClosed && !shelf.table.isCurrent(caseId),
  );
  let fresh: CaseDigest[] = [];
  let problem: Fault | null = null;
  for (const [index, { caseId }] of wanted.entries()) {
    const digest = await reader.read(store, caseId);
    if (run.isOver) break;
    run.reach(index + 1, wanted.length);
    if (digest) {
      shelf.add(digest);
      fresh.push(digest);
    }
    if (fresh.length >= PIECE) {
      problem = await shelf.keep(fresh);
      fresh = [];
    }
    onCase();
  }
  return (await shelf.keep(fresh)) ?? problem;
}
