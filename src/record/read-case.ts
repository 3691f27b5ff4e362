/**
 * From stored values to what the rest of the product sees: the readable start of a
 * case, and its line in the list. Shared by all adapters, so that damage is treated
 * alike everywhere. Reads only; the stored values are never touched.
 */
import { CASE_MODES, SIDES, fault } from '../domain';
import type { CaseId, Entry, Fault, ProcedureId } from '../domain';
import type { CaseSummary, ReadCase } from './record-store';
import { readEntry } from './upgrade';

/** A value in the store and the position it is stored under. */
export interface StoredValue {
  readonly seq: number;
  readonly value: unknown;
}

/** Entries from `from` up to the first gap or flaw, and what that was. `stored` is in order of `seq`. */
export function toReadCase(
  caseId: CaseId,
  stored: readonly StoredValue[],
  from = 0,
): Omit<ReadCase, 'seal'> {
  const entries: Entry[] = [];
  for (const { seq, value } of stored) {
    const next = from + entries.length;
    if (seq !== next) {
      return stopAt(entries, fault('record-unreadable', { seq: String(next), detail: 'missing' }));
    }
    const read = readEntry(value, { caseId, seq });
    if (!read.ok) return stopAt(entries, read.error);
    entries.push(read.value);
  }
  return { entries, problem: null, isReadOnly: false };
}

function stopAt(entries: readonly Entry[], problem: Fault): Omit<ReadCase, 'seal'> {
  return { entries, problem, isReadOnly: true };
}

/** A case whose head knows of entries that are not there: the end is missing. */
export function withMissingEnd(read: ReadCase, expectedCount: number): ReadCase {
  const next = read.entries.length;
  if (read.problem !== null || expectedCount <= next) return read;
  const problem = fault('record-unreadable', { seq: String(next), detail: 'missing' });
  return { ...read, problem, isReadOnly: true };
}

/** Facts that may follow `case.closed`; looking for it from the end can stop at any other. */
const MAY_FOLLOW_CLOSING: ReadonlySet<unknown> = new Set([
  'run.resumed',
  'record.mended',
  'order.refused',
  'phrase.heard',
  'milestone.reached',
  'question.asked',
  'announcer.muted',
  'announcer.unmuted',
]);

/** What the newest values, seen one by one, say about the end of a case. */
export function findClosing(value: unknown): 'closed' | 'open' | 'look-further' {
  const type = typeof value === 'object' && value !== null ? Reflect.get(value, 'type') : null;
  if (type === 'case.closed') return 'closed';
  return MAY_FOLLOW_CLOSING.has(type) ? 'look-further' : 'open';
}

/** The line of a case in the list, from its first and last stored value. */
export function toSummary(
  caseId: CaseId,
  first: StoredValue,
  last: StoredValue,
  ending: { readonly entryCount: number; readonly isClosed: boolean },
): CaseSummary {
  const latest = readEntry(last.value, { caseId, seq: last.seq });
  const lastAt = latest.ok ? latest.value.at : null;
  return { caseId, ...openingOf(caseId, first), lastAt, ...ending };
}

/** What the first value of a case says of it. */
export function openingOf(caseId: CaseId, first: StoredValue): Opening {
  const opening = readEntry(first.value, { caseId, seq: 0 });
  return openingToSummary(opening.ok ? opening.value : null);
}

type Opening = Pick<CaseSummary, 'openedAt' | 'mode' | 'side' | 'procedureId' | 'procedureTitle'>;

function openingToSummary(entry: Entry | null): Opening {
  if (entry?.type !== 'case.opened') {
    return {
      openedAt: entry?.at ?? null,
      mode: null,
      side: null,
      procedureId: null,
      procedureTitle: null,
    };
  }
  // The envelope says nothing about the data, so each field is looked at before it is believed.
  const data: Readonly<Record<string, unknown>> = { ...entry.data };
  const procedure = data['procedure'];
  const title =
    typeof procedure === 'object' && procedure !== null ? Reflect.get(procedure, 'title') : null;
  return {
    openedAt: entry.at,
    mode: CASE_MODES.find((mode) => mode === data['mode']) ?? null,
    side: SIDES.find((side) => side === data['side']) ?? null,
    procedureId:
      typeof data['procedureId'] === 'string' ? (data['procedureId'] as ProcedureId) : null,
    procedureTitle: typeof title === 'string' ? title : null,
  };
}

/** Newest opening first; cases whose opening can't be read come last. */
export function sortNewestFirst(summaries: readonly CaseSummary[]): readonly CaseSummary[] {
  return [...summaries].sort(
    (a, b) =>
      (b.openedAt ?? -Infinity) - (a.openedAt ?? -Infinity) || a.caseId.localeCompare(b.caseId),
  );
}
