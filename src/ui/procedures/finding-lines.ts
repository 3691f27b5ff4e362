/** What a check found, as lines for whoever brought the file: where, why, what to do. Pure. */
import type { Fault } from '../../domain';
import { faultToOperatorText } from '../../domain';
import type { Finding } from '../../session';
import { pathToWords, termToWords } from '../start/finding-words';

export interface FindingLine {
  readonly isFatal: boolean;
  readonly where: string;
  /** The place as the file has it; null where the words say it already. */
  readonly path: string | null;
  readonly why: string;
  readonly todo: string;
}

/** A finding of the check; a fatal one refuses the file. */
export function findingToLine({ path, expected, received, advice, isFatal }: Finding): FindingLine {
  return { isFatal, ...placeAndReason(path, expected, received), todo: advice };
}

function placeAndReason(path: string, expected: string, received: string) {
  const why = `Expected ${termToWords(expected)}, found ${termToWords(received)}.`;
  return { where: pathToWords(path), path, why };
}

/** A file that could not even be read. */
export function faultToLine(fault: Fault): FindingLine {
  const { path, expected, received } = fault.params;
  if (path !== undefined && expected !== undefined && received !== undefined)
    return {
      isFatal: true,
      ...placeAndReason(path, expected, received),
      todo: 'Mend the file there; an editor that knows JSON shows the place.',
    };
  const { happened, next } = faultToOperatorText(fault);
  return { isFatal: true, where: 'the file', path: null, why: `${happened}.`, todo: next };
}
