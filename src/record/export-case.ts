/**
 * Cases as files. JSON is for keeping: it holds every entry as it lies in the store,
 * with its seal, and can be taken in again. CSV is for reading in a spreadsheet: one
 * line an entry. Both carry the mode, so that a rehearsal or a demo can't be taken
 * for a real case.
 */
import { rowsToCsv } from '../domain';
import type { CaseMode, Entry } from '../domain';
import { findTail } from './check-chain';
import { loadHasher, sealEntries } from './seal';

/** What the file of one case says it is. */
export const CASE_FORMAT = 'cuewall-case';
/** What the file of several cases says it is. */
export const BACKUP_FORMAT = 'cuewall-backup';
/** The version of the frame around the entries; every entry carries its own. */
export const FRAME_VERSION = 2;

const CSV_COLUMNS = [
  'mode', 'case', 'seq', 'at', 'mono_ms', 'run', 'source', 'version', 'type', 'data',
] as const; // prettier-ignore

/** The values for a file of a case: what is stored, and behind it, sealed, what only memory has. */
export async function completeStored(
  stored: readonly unknown[],
  entries: readonly Entry[],
): Promise<readonly unknown[]> {
  if (entries.length <= stored.length) return stored;
  const hasher = await loadHasher();
  const tail = findTail(
    hasher,
    stored.map((value, seq) => ({ seq, value })),
  );
  return [...stored, ...sealEntries(hasher, tail, entries.slice(stored.length)).sealed];
}

/** A case as JSON text, from its stored values. */
export function caseToJson(values: readonly unknown[]): string {
  return `${JSON.stringify(toFrame(values), null, 1)}\n`;
}

/** Several cases as JSON text. */
export function casesToJson(cases: readonly (readonly unknown[])[]): string {
  const backup = { format: BACKUP_FORMAT, version: FRAME_VERSION, cases: cases.map(toFrame) };
  return `${JSON.stringify(backup, null, 1)}\n`;
}

/** All entries of a case as CSV (RFC 4180): header line, CRLF, quotes doubled. `at` is ISO 8601 in UTC. */
export function caseToCsv(entries: readonly Entry[]): string {
  const mode = findMode(entries[0]);
  const lines = entries.map((entry) => [
    mode,
    entry.caseId,
    entry.seq,
    new Date(entry.at).toISOString(),
    entry.mono,
    entry.run,
    entry.source,
    entry.version,
    entry.type,
    JSON.stringify(entry.data),
  ]);
  return rowsToCsv([CSV_COLUMNS, ...lines]);
}

/** The frame says how many entries there are and how they end, so that a cut file is known. */
function toFrame(values: readonly unknown[]): object {
  const last = values.at(-1);
  return {
    format: CASE_FORMAT,
    version: FRAME_VERSION,
    mode: findMode(values[0]),
    count: values.length,
    hash: (isObject(last) ? Reflect.get(last, 'hash') : null) ?? null,
    entries: values,
  };
}

/** The mode of the case; "unknown" where the opening entry is missing. */
export function findMode(opening: unknown): CaseMode | 'unknown' {
  if (!isObject(opening) || Reflect.get(opening, 'type') !== 'case.opened') return 'unknown';
  const data: unknown = Reflect.get(opening, 'data');
  return isObject(data) ? ((Reflect.get(data, 'mode') as CaseMode | undefined) ?? 'unknown') : 'unknown'; // prettier-ignore
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
