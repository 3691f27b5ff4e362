/**
 * Rows as CSV text, for every file that a spreadsheet may open. RFC 4180: CRLF,
 * quotes doubled. Text that a spreadsheet would run as a formula is defused.
 */

/** What a spreadsheet may take for the start of a formula, also behind spaces (OWASP, "CSV Injection"). */
const FORMULA_START = /^\s*[=+\-@\t\r\n＝＋－＠]/u;

/** Rows as CSV text (RFC 4180). Text that a spreadsheet would run as a formula gets an apostrophe in front. */
export function rowsToCsv(rows: readonly (readonly (string | number)[])[]): string {
  return rows.map((row) => `${row.map(toCell).join(',')}\r\n`).join('');
}

function toCell(value: string | number): string {
  if (typeof value === 'number') return String(value);
  const safe = FORMULA_START.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
