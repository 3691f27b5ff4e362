/**
 * Which values a capture can take, and how each is written and said.
 */
import {
  clockToDegrees, clockToText, clockToWords, numberToDigitWords, numberToWords, soundsLikeAnother, unitToText,
} from '../domain'; // prettier-ignore
import type { CaptureId, CaptureValue, Unit } from '../domain';
import type { CaseContext } from './context';
import type { Capture } from './expanded';
import type { CaptureSpec, DerivedSpec } from './format';
import type { Lookups } from './lookups';

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
/** How long may a typed note be to stay readable on the desk? */
export const MOST_NOTE_CHARS = 200;
/** The longest GS1 or HIBC label is far below this. */
export const MOST_LABEL_CHARS = 300;

/** Writes out a list or a range of numbers; free of the noise of binary fractions. */
export function writeOutValues(
  values: Extract<CaptureSpec, { readonly kind: 'number' }>['values'],
): readonly number[] {
  if (!('from' in values)) return values;
  const { from, to, step } = values;
  const count = Math.max(0, Math.floor((to - from) / step + 1e-9)) + 1;
  return Array.from({ length: count }, (_, index) => Number((from + index * step).toFixed(3)));
}

/** Lists the values of a capture in order; none where anything can be written. */
export function listLegalValues(capture: Capture): readonly LegalValue[] {
  switch (capture.kind) {
    case 'number':
    case 'quantity':
      return capture.values.map((value) => ({
        value,
        text: joinUnit(value, capture.unit),
        words: numberWords(value, capture.values),
      }));
    case 'choice':
      return capture.options.map(({ id, label, say }) => ({
        value: id,
        text: label,
        words: [say],
      }));
    case 'yes-no':
      return [
        { value: 'yes', text: 'Yes', words: ['yes'] },
        { value: 'no', text: 'No', words: ['no'] },
      ];
    case 'clock':
      return Array.from({ length: MINUTES_AROUND / capture.stepMin }, (_, index) =>
        clockValue(capture, index * capture.stepMin),
      );
    case 'report':
      return [{ value: REPORTED, text: 'Done', words: [capture.say] }];
    case 'note':
    case 'label':
      return [];
  }
}

/** Whether a capture takes what is written or scanned rather than one of a list. */
export function isFree({ kind }: Pick<Capture, 'kind'>): boolean {
  return kind === 'note' || kind === 'label';
}

/** Whether a capture can take a value at all. */
export function isLegalValue(capture: Capture, value: CaptureValue): boolean {
  if (isFree(capture)) {
    const most = capture.kind === 'note' ? MOST_NOTE_CHARS : MOST_LABEL_CHARS;
    return typeof value === 'string' && value.trim() !== '' && value.length <= most;
  }
  return listLegalValues(capture).some((legal) => legal.value === value);
}

/** A value as the wall writes it. */
export function valueToText(capture: Capture, value: CaptureValue): string {
  return listLegalValues(capture).find((legal) => legal.value === value)?.text ?? String(value);
}

/** A value as the wall says it; as written where there are no words for it. */
export function valueToWords(capture: Capture, value: CaptureValue): string {
  const legal = listLegalValues(capture).find((candidate) => candidate.value === value);
  return legal?.words[0] ?? String(value);
}

/** What follows from a captured number; null where the table has no line for it. */
export function deriveValue({ plus, table }: DerivedSpec, from: CaptureValue): number | null {
  if (typeof from !== 'number') return null;
  if (table) return table.find(({ of }) => of === from)?.is ?? null;
  return Number((from + plus).toFixed(3));
}

/** A derived value as it stands now; null before its source is confirmed. */
export function derivedNow(spec: DerivedSpec, { confirmed }: CaseContext): number | null {
  const from = confirmed[spec.from as CaptureId];
  return from === undefined ? null : deriveValue(spec, from);
}

/** Fills `{id}` with confirmed or derived values; an unknown one shows as a question mark. */
export function fillText(
  { captures, procedure }: Pick<Lookups, 'captures' | 'procedure'>,
  text: string,
  context: CaseContext,
): string {
  return text.replace(/\{([a-z0-9-]+)\}/g, (_, id: string) => {
    const capture = captures.get(id as CaptureId);
    const value = capture && context.confirmed[capture.id];
    if (capture && value !== undefined) return valueToText(capture, value);
    const derived = procedure.derived.find((spec) => spec.id === id);
    const follows = derived ? derivedNow(derived, context) : null;
    return derived && follows !== null ? joinUnit(follows, derived.unit) : '?';
  });
}

/** A number with its unit: "24 mm", "16°", "3". */
export function joinUnit(number: number, unit: Unit): string {
  const text = unitToText(unit);
  return text === '' || text === '°' ? `${number}${text}` : `${number} ${text}`;
}

function clockValue(
  { shownIn }: Extract<Capture, { readonly kind: 'clock' }>,
  minutes: number,
): LegalValue {
  return shownIn === 'hours'
    ? { value: minutes, text: clockToText(minutes), words: [clockToWords(minutes)] }
    : {
        value: minutes,
        text: joinUnit(clockToDegrees(minutes), 'deg'),
        words: [numberToDigitWords(clockToDegrees(minutes))],
      };
}

function numberWords(value: number, all: readonly number[]): readonly string[] {
  const digits = numberToDigitWords(value);
  const whole = numberToWords(value);
  return whole === null || whole === digits || soundsLikeAnother(value, all)
    ? [digits]
    : [digits, whole];
}
