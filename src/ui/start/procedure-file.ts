/** From the text of a file that somebody chose to data, or to a fault with place, expected and received. */
import { err, fault, ok } from '../../domain';
import type { Fault, Result } from '../../domain';

/** A procedure is a few dozen kilobytes; whatever is larger is another file. */
export const MAX_FILE_BYTES = 1_000_000;

/** Parses JSON; the fault names the line at which it breaks. */
export function parseProcedureText(text: string): Result<unknown, Fault> {
  if (text.length > MAX_FILE_BYTES) {
    return invalid('(file)', 'a procedure of at most 1 MB', `${text.length} characters`);
  }
  try {
    return ok(JSON.parse(text.replace(/^\uFEFF/, '')) as unknown);
  } catch (cause) {
    const line = findLine(text, cause instanceof Error ? cause.message : '');
    const received = line === null ? 'other text' : `text that breaks at line ${line}`;
    return invalid('(file)', 'JSON', received);
  }
}

/** The line that an engine's message points to; null where it doesn't. */
function findLine(text: string, message: string): number | null {
  const line = /line (\d+)/.exec(message)?.[1];
  if (line !== undefined) return Number(line);
  const position = /position (\d+)/.exec(message)?.[1];
  return position === undefined ? null : text.slice(0, Number(position)).split('\n').length;
}

function invalid(
  path: string,
  expected: string,
  received: string,
): { readonly ok: false; readonly error: Fault } {
  const finding = `At ${path}: expected ${expected}, found ${received}`;
  return err(fault('procedure-invalid', { finding, path, expected, received }));
}
