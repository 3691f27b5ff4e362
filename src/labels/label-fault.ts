/** Makes the faults of this folder: what is wrong and where, counted from one as people count. */
import { err, fault } from '../domain';
import type { ErrorCode, Fault } from '../domain';

/** A fault at a place of the scanned text; `at` counts from zero. */
export function faultAt(
  code: ErrorCode,
  at: number,
  params: { readonly part?: string; readonly found?: string; readonly expected?: string } = {},
): { readonly ok: false; readonly error: Fault } {
  const found = params.found === undefined ? {} : { found: toVisible(params.found) };
  return err(fault(code, { ...params, ...found, at: String(at + 1) }));
}

/** Control characters have no picture of their own; a scan may hold any. */
function toVisible(text: string): string {
  const shown = [...text.slice(0, 40)].map((character) => {
    const code = character.codePointAt(0) ?? 0;
    if (code === 0x1d) return '␝';
    return code < 0x20 || code === 0x7f ? `#${code}` : character === ' ' ? '␣' : character;
  });
  return `“${shown.join('')}”`;
}
