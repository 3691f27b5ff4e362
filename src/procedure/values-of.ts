/**
 * Which values a capture can take, and how each is written and said.
 */
import {
  clockToText, clockToWords, numberToDigitWords, numberToWords, soundsLikeAnother, unitToText,
} from '../domain'; // prettier-ignore
import type { CaptureValue } from '../domain';
import type { CaseContext } from './context';
import type { Capture } from './expand';

/** One value that a capture can take. */
export interface LegalValue {
  readonly value: CaptureValue;
  /** With its unit, as the wall shows it. */
  readonly text: string;
  /** Ways to say it, the safest first; the read-back uses the first. */
  readonly words: readonly string[];
}

/** The value a report holds once it was made. */
export const REPORTED = 'reported';

/** Minutes on a clock face. */
const MINUTES_AROUND = 720;

/** Lists the values of a capture in order. */
export function listLegalValues(capture: Capture): readonly LegalValue[] {
  switch (capture.kind) {
    case 'number':
      return capture.values.map((value) => ({
        value,
        text: joinUnit(String(value), unitToText(capture.unit)),
        words: numberWords(value, capture.values),
      }));
    case 'choice':
      return capture.options.map(({ id, label, say }) => ({
        value: id,
        text: label,
        words: [say],
      }));
    case 'clock':
      return Array.from({ length: MINUTES_AROUND / capture.stepMin }, (_, index) => {
        const minutes = index * capture.stepMin;
        return { value: minutes, text: clockToText(minutes), words: [clockToWords(minutes)] };
      });
    case 'report':
      return [{ value: REPORTED, text: 'Done', words: [capture.say] }];
  }
}

/** Whether a capture can take a value at all. */
export function isLegalValue(capture: Capture, value: CaptureValue): boolean {
  return listLegalValues(capture).some((legal) => legal.value === value);
}

/** A value as the wall writes it. */
export function valueToText(capture: Capture, value: CaptureValue): string {
  return listLegalValues(capture).find((legal) => legal.value === value)?.text ?? String(value);
}

/** Fills `{capture-id}` with confirmed values; an unknown one shows as a question mark. */
export function fillText(
  text: string,
  context: CaseContext,
  captures: ReadonlyMap<string, Capture>,
): string {
  return text.replace(/\{([a-z0-9-]+)\}/g, (_, id: string) => {
    const capture = captures.get(id);
    const value = capture && context.confirmed[capture.id];
    return capture && value !== undefined ? valueToText(capture, value) : '?';
  });
}

function numberWords(value: number, all: readonly number[]): readonly string[] {
  const digits = numberToDigitWords(value);
  const whole = numberToWords(value);
  return whole === null || whole === digits || soundsLikeAnother(value, all)
    ? [digits]
    : [digits, whole];
}

function joinUnit(number: string, unit: string): string {
  return unit === '' || unit === '°' ? `${number}${unit}` : `${number} ${unit}`;
}
