/**
 * Takes in a file of another machine: checks it a few cases at a time, so that it can be
 * stopped, then takes it in whole. Until that last moment nothing on this machine is changed.
 */
import { fault, ok } from '../../domain';
import type { CaseId, Fault, Result } from '../../domain';
import { checkCases, openReviewFile } from '../../review';
import type { CaseDigest, OpenedFile } from '../../review';
import type { Brought } from '../../ui';
import { PIECE } from './digest-store';
import type { ReviewNotes } from './review-notes';
import type { ReviewShelf } from './review-shelf';
import type { WorkRun } from './review-work';

export interface BringingParts {
  readonly shelf: ReviewShelf;
  readonly notes: ReviewNotes;
  /** Cases that were removed from this machine. */
  readonly listGone: () => Promise<Result<ReadonlySet<CaseId>, Fault>>;
  /** Called when it has come further. */
  readonly onStep: () => void;
}

/** All of the cases or, where the fault says so or it was stopped (null), none. */
export async function bringFile(
  text: string,
  run: WorkRun,
  parts: BringingParts,
): Promise<Result<Brought | null, Fault>> {
  const opened = openReviewFile(text);
  if (!opened.ok) return opened;
  const checked = await checkAll(opened.value, run, parts);
  if (!checked.ok) return checked;
  if (checked.value === null) return ok(null);
  const gone = await parts.listGone();
  if (!gone.ok) return gone;
  const wanted = checked.value.filter(({ caseId }) => !gone.value.has(caseId));
  const read = checked.value.length;
  const taken = await parts.shelf.takeIn(wanted, (ready) =>
    // Checking is the first half of the way, however many are here already.
    step(run, parts, read + Math.min(ready, read), 2 * read),
  );
  if (!taken.ok) return taken;
  if (taken.value === null) return ok(null);
  const { added, same } = taken.value;
  const { hours, remarks } = await takeNotes(opened.value, parts);
  const stayOut = read - wanted.length;
  const removed = stayOut > 0 ? [fault('review-cases-removed', { count: String(stayOut) })] : [];
  return ok({
    added,
    known: same,
    renewed: wanted.length - added - same,
    hours,
    remarks: [...removed, ...remarks],
  });
}

async function checkAll(
  { cases }: OpenedFile,
  run: WorkRun,
  parts: BringingParts,
): Promise<Result<readonly CaseDigest[] | null, Fault>> {
  const all: CaseDigest[] = [];
  for (let from = 0; from < cases.length; from += PIECE) {
    if (await step(run, parts, from, 2 * cases.length)) return ok(null);
    const some = checkCases(cases, from, PIECE);
    if (!some.ok) return some;
    all.push(...some.value);
  }
  return ok(all);
}

/** Marks are taken in beside those that are here, hours only where none were typed here. */
async function takeNotes(
  { marks, hours }: OpenedFile,
  { notes }: BringingParts,
): Promise<Pick<Brought, 'hours' | 'remarks'>> {
  const takesHours = hours !== null && notes.hours === null;
  const faults = [await notes.mark(marks), takesHours ? await notes.keepHours(hours) : null];
  return {
    hours: takesHours ? hours : null,
    remarks: faults.filter((unkept) => unkept !== null),
  };
}

/** Says how far it is and lets the thread hear whether it was stopped; true where it was. */
async function step(
  run: WorkRun,
  { onStep }: BringingParts,
  done: number,
  total: number,
): Promise<boolean> {
  run.reach(done, total);
  onStep();
  // Messages come between tasks, and nothing before this waited for one.
  await new Promise((resolve) => setTimeout(resolve));
  return run.isOver;
}
