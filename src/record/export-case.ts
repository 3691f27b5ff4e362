/**
 * A case as a file. JSON is for keeping: it holds every entry as it was recorded.
 * CSV is for reading in a spreadsheet: one line an entry. Both carry the mode, so
 * that a rehearsal or a demo can't be taken for a real case.
 */
import { rowsToCsv } from '../domain';
import type { CaseMode, Entry } from '../domain';

/** What the file says it is. */
const EXPORT_FORMAT = 'cuewall-case';
/** The version of the file's frame; every entry carries its own. */
const EXPORT_VERSION = 1;

const CSV_COLUMNS = [
  'mode', 'case', 'seq', 'at', 'mono_ms', 'run', 'source', 'version', 'type', 'data',
] as const; // prettier-ignore

/** All entries of a case as JSON text. */
export function caseToJson(entries: readonly Entry[]): string {
  const frame = {
    format: EXPORT_FORMAT,
    version: EXPORT_VERSION,
    mode: findMode(entries),
    entries,
  };
  return `${JSON.stringify(frame, null, 1)}\n`;
}

/** All entries of a case as CSV (RFC 4180): header line, CRLF, quotes doubled. `at` is ISO 8601 in UTC. */
export function caseToCsv(entries: readonly Entry[]): string {
  const mode = findMode(entries);
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

/** The mode of the case; "unknown" where the opening entry is missing. */
function findMode(entries: readonly Entry[]): CaseMode | 'unknown' {
  const [opening] = entries;
  return opening?.type === 'case.opened' ? opening.data.mode : 'unknown';
}
