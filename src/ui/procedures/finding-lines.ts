/** What a check found, as lines for whoever brought the file: where, why, what to do. Pure. */
import type { Fault } from '../../domain';
import { faultToOperatorText } from '../../domain';
import type { Finding, Remark } from '../../session';
import { pathToWords, termToWords } from '../start/finding-words';

export interface FindingLine {
  readonly isFatal: boolean;
  readonly where: string;
  /** The place as the file has it; null where the words say it already. */
  readonly path: string | null;
  readonly why: string;
  readonly todo: string;
}

/** A fault of form or reference; each of them refuses the file. */
export function findingToLine({ path, expected, received }: Finding): FindingLine {
  return {
    isFatal: true,
    where: pathToWords(path),
    path,
    why: `Found ${termToWords(received)}.`,
    todo: `Put here: ${termToWords(expected)}.`,
  };
}

/** Something that walking or listening found. */
export function remarkToLine({ where, what, advice, isFatal }: Remark): FindingLine {
  return {
    isFatal,
    where: pathToWords(where),
    path: where,
    why: `${sentence(what)}.`,
    todo: advice,
  };
}

/** A file that could not even be read. */
export function faultToLine(fault: Fault): FindingLine {
  const { path, expected, received } = fault.params;
  if (path !== undefined && expected !== undefined && received !== undefined)
    return findingToLine({ path, expected, received });
  const { happened, next } = faultToOperatorText(fault);
  return { isFatal: true, where: 'the file', path: null, why: `${happened}.`, todo: next };
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
