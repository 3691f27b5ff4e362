/** The pieces that announcements are put together from. Each may be a recorded clip. */
import { asId, numberToDigitWords } from '../../domain';
import { derivedNow, deriveValue, isFree, listLegalValues, valueToWords } from '../../procedure';
import type { Capture, CaseContext, CompiledProcedure } from '../../procedure';

/** What the wall says in every procedure. */
export const SAID = {
  right: 'Right?',
  notYet: 'Not yet',
  notNow: 'Not now',
  notRecorded: 'not recorded',
  next: 'Next',
  nothing: 'Nothing yet',
  backTable: 'Back table',
  held: 'Clock held',
  resumed: 'Clock runs',
  override: 'Override recorded',
  again: 'Say that again',
  voiceOn: 'Voice on',
  still: 'Still right?',
  undone: 'Taken back',
  inDoubt: 'To be confirmed again',
  relief: 'Relief count due',
  differs: 'Count differs',
} as const;

/** A capture's name and its value; a report in full. */
export function readBackSegments(
  capture: Capture,
  value: string | number | null,
): readonly string[] {
  if (capture.kind === 'report') return [capture.reads];
  // What was typed or scanned is read from the screen.
  return value === null || isFree(capture)
    ? [capture.label]
    : [capture.label, valueToWords(capture, value)];
}

/** A cue's text in pieces: the fixed parts as written, captured and derived values as spoken. */
export function fillSegments(
  compiled: CompiledProcedure,
  text: string,
  context: CaseContext,
): readonly string[] {
  const pieces = text.split(/(\{[a-z0-9-]+\})/g).map((piece) => {
    if (!piece.startsWith('{')) return piece.trim();
    const capture = [...compiled.captures.values()].find(({ id }) => `{${id}}` === piece);
    const value = capture && context.confirmed[capture.id];
    if (capture) return value === undefined || isFree(capture) ? '' : valueToWords(capture, value);
    const spec = compiled.procedure.derived.find(({ id }) => `{${id}}` === piece);
    const follows = spec ? derivedNow(spec, context) : null;
    return follows === null ? '' : numberToDigitWords(follows);
  });
  // A full stop after a value is nothing to be said.
  return pieces.filter((piece) => piece !== '' && piece !== '.');
}

/** The fixed parts of a text that holds values. */
export function literals(text: string): readonly string[] {
  return text.split(/\{[a-z0-9-]+\}/g).map((piece) => piece.trim());
}

/** Every number that a derived value can be, as the wall says it. */
export function derivedWords(
  { captures }: CompiledProcedure,
  spec: CompiledProcedure['procedure']['derived'][number],
): readonly string[] {
  const source = captures.get(asId(spec.from));
  const values = source ? listLegalValues(source) : [];
  return values.flatMap(({ value }) => {
    const follows = deriveValue(spec, value);
    return follows === null ? [] : [numberToDigitWords(follows)];
  });
}
