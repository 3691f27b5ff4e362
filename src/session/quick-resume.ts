/**
 * Taking a long case up at once: from a snapshot and the entries after it, with the check
 * of all the rest left for when the screen is back. The check reads the record from its
 * first entry, a piece at a time, and replays it; a snapshot that the record does not
 * bear out is thrown away, and what the record says takes its place.
 */
import { err, fault, ok } from '../domain';
import type { CaseId, Entry, Fault, Result, Scheduler } from '../domain';
import type { PartStart, RecordStore, Snapshot, SnapshotStore } from '../record';
import { CaseLog } from './kept/case-log';
import type { CaseSettings } from './kept/case-log';
import { factsToText, isSameFacts } from './kept/case-snapshot';

/** Entries checked at a time: a few milliseconds, so that a spoken order never waits. */
const PIECE = 256;

/** A case put back from a snapshot, not checked yet. */
export interface QuickCase {
  readonly log: CaseLog;
  readonly snapshot: Snapshot;
}

/** The case, or null where it must be read whole. */
export async function resumeQuickly(
  store: RecordStore,
  snapshots: SnapshotStore,
  settings: CaseSettings,
  caseId: CaseId,
): Promise<QuickCase | null> {
  const snapshot = await snapshots.read(caseId);
  if (snapshot === null) return null;
  const part = await store.readAfter(caseId, snapshot.tail);
  if (!part.ok || part.value === null || !part.value.isEnd) return null;
  const { opening, entries } = part.value;
  const log = CaseLog.restore(opening, snapshot, entries, settings);
  return log && { log, snapshot };
}

/**
 * The beginning of a case that a snapshot stood for, read and replayed. The fault says that
 * the record, as it lies there, does not lead to what the snapshot said.
 */
export async function checkSnapshot(
  store: RecordStore,
  scheduler: Scheduler,
  { snapshot, log: { caseId, settings } }: QuickCase,
): Promise<Result<readonly Entry[], Fault>> {
  const { tail, text } = snapshot;
  const beginning: Entry[] = [];
  let replayed: CaseLog | null = null;
  let from: PartStart = { count: 0, hash: null };
  while (from.count < tail.count) {
    await new Promise<void>((resolve) => scheduler.after(0, resolve));
    const part = await store.readAfter(caseId, from, Math.min(PIECE, tail.count - from.count));
    if (!part.ok) return part;
    if (part.value === null || part.value.entries.length === 0)
      return unborne(from.count, 'the chain does not hold');
    const { entries } = part.value;
    const taken: Result<CaseLog, Fault> = replayed
      ? replayed.tryToAdd(entries)
      : CaseLog.rebuild(entries, settings);
    if (!taken.ok) return taken;
    replayed ??= taken.value;
    beginning.push(...entries);
    from = part.value.tail;
  }
  if (from.hash !== tail.hash) return unborne(tail.count, 'another last entry');
  const isBorne = isSameFacts(replayed ? factsToText(replayed.facts) : null, text);
  return isBorne ? ok(beginning) : unborne(tail.count, 'another state');
}

function unborne(seq: number, detail: string): Result<never, Fault> {
  return err(fault('snapshot-wrong', { seq: String(seq), detail }));
}
