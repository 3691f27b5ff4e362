/** Scans for the tests: the year is 2026 unless said, and `^` in a text stands for FNC1. */
import { faultToOperatorText } from '../../src/domain';
import type { LabelData } from '../../src/domain';
import { readScan } from '../../src/labels';

export const PLAIN = { prefix: '', suffix: '', separator: '', thisYear: 2026 };

/** A GS1 symbol's content in the notation of GS1's own tests, as a scanner sends it. */
export function scanned(encoded: string): string {
  return encoded.replace(/^\^/, ']d2').replaceAll('^', '\u001d');
}

/** Reads a scan that must be good. */
export function reads(text: string, thisYear = 2026): LabelData {
  const read = readScan(text, { ...PLAIN, thisYear });
  if (!read.ok) throw new Error(`${text}: ${faultToOperatorText(read.error).happened}`);
  return read.value;
}

/** Code and place of a refusal; null where the scan was taken. */
export function refuses(text: string): { readonly code: string; readonly at: string } | null {
  const read = readScan(text, PLAIN);
  return read.ok ? null : { code: read.error.code, at: read.error.params.at ?? '' };
}
