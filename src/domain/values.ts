/**
 * What a capture can hold, and how a value is written, spelt and spoken.
 * Numbers are in the capture's unit; a clock direction is minutes past twelve
 * (630 is 10:30); a choice and a report hold the id of the option, a question "yes" or
 * "no", a note its text, a label what was scanned.
 */
export type CaptureValue = number | string;

/** Units a number can have. The text is what the wall shows. */
export type Unit = 'mm' | 'deg' | 'none' | 'cm' | 'ml' | 'g' | 'min' | 'mmHg';

/** Minutes on a clock face. */
const MINUTES_AROUND = 720;

const DIGIT_WORDS = [
  'zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine',
] as const; // prettier-ignore

const SMALL_WORDS = [
  ...DIGIT_WORDS, 'ten', 'eleven', 'twelve', 'thirteen', 'fourteen', 'fifteen', 'sixteen',
  'seventeen', 'eighteen', 'nineteen',
] as const; // prettier-ignore

const TENS_WORDS = [
  '', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety',
] as const; // prettier-ignore

const NUMBER_KINDS: readonly (readonly string[])[] = [
  DIGIT_WORDS, SMALL_WORDS.slice(10), TENS_WORDS.slice(2),
]; // prettier-ignore

/** The unit as shown after a number: "mm", "°" or nothing. */
export function unitToText(unit: Unit): string {
  return unit === 'deg' ? '°' : unit === 'none' ? '' : unit;
}

/** Digit by digit, the safe way to say a number: 24 is "two four". Whole numbers from 0 to 999. */
export function numberToDigitWords(value: number): string {
  return [...String(value)].map((digit) => DIGIT_WORDS[Number(digit)] ?? 'point').join(' ');
}

/** As people say it: 24 is "twenty four". Whole numbers from 0 to 99; null beyond. */
export function numberToWords(value: number): string | null {
  if (!Number.isInteger(value) || value < 0 || value > 99) return null;
  const small = SMALL_WORDS[value];
  if (small !== undefined) return small;
  const tens = TENS_WORDS[Math.floor(value / 10)] ?? '';
  return value % 10 === 0 ? tens : `${tens} ${DIGIT_WORDS[value % 10] ?? ''}`;
}

/** Words of which one number differs from another: all digits for a digit, all tens for a ten, ten to nineteen; empty for no number. */
export function numberWordsLike(word: string): readonly string[] {
  return NUMBER_KINDS.find((kind) => kind.includes(word)) ?? [];
}

/** The ten for a teen and the teen for a ten, which sound alike: "sixty" for "sixteen"; null for others. */
export function soundAlikeOf(word: string): string | null {
  const teen = SMALL_WORDS.findIndex((one) => one === word) - 10;
  if (teen >= 3) return TENS_WORDS[teen] ?? null;
  const ten = TENS_WORDS.findIndex((one) => one === word);
  return ten >= 3 ? (SMALL_WORDS[10 + ten] ?? null) : null;
}

/**
 * Whether a number sounds like another one on offer: thirteen and thirty, up to
 * nineteen and ninety (error-prone pairs in ISMP's lists). Such a number counts
 * only when said digit by digit.
 */
export function soundsLikeAnother(value: number, others: readonly number[]): boolean {
  const isTeen = value >= 13 && value <= 19;
  const isTens = value >= 30 && value <= 90 && value % 10 === 0;
  if (isTeen) return others.includes((value - 10) * 10);
  return isTens && others.includes(value / 10 + 10);
}

/** Minutes past twelve as a clock direction: 630 is "10:30", 0 is "12:00". */
export function clockToText(minutes: number): string {
  const around = ((minutes % MINUTES_AROUND) + MINUTES_AROUND) % MINUTES_AROUND;
  const hour = Math.floor(around / 60) === 0 ? 12 : Math.floor(around / 60);
  return `${hour}:${String(around % 60).padStart(2, '0')}`;
}

/** A clock direction as spoken: 630 is "ten thirty", 540 is "nine o'clock". */
export function clockToWords(minutes: number): string {
  const text = clockToText(minutes);
  const [hour = '', minute = ''] = text.split(':');
  const hourWord = numberToWords(Number(hour)) ?? '';
  return minute === '00'
    ? `${hourWord} o'clock`
    : `${hourWord} ${numberToWords(Number(minute)) ?? ''}`;
}

/** The direction opposite on the face: 10:30 (630) gives 4:30 (270). Common practice for the helper mark. */
export function clockOpposite(minutes: number): number {
  return (minutes + MINUTES_AROUND / 2) % MINUTES_AROUND;
}

/** Degrees around a circle for minutes of a clock face: 630 is 315. */
export function clockToDegrees(minutes: number): number {
  return (((minutes % MINUTES_AROUND) + MINUTES_AROUND) % MINUTES_AROUND) / 2;
}

/**
 * Where a clock direction points, in words: above or below, and towards what lies at three
 * or at nine o'clock. 630 (10:30) with "front" at three and "back" at nine is "back, above".
 */
export function clockToTowards(
  minutes: number,
  names: { readonly three: string; readonly nine: string },
): string {
  const around = ((minutes % MINUTES_AROUND) + MINUTES_AROUND) % MINUTES_AROUND;
  const height =
    around < 180 || around > 540 ? 'above' : around > 180 && around < 540 ? 'below' : '';
  const side = around > 0 && around < 360 ? names.three : around > 360 ? names.nine : '';
  return [side, height].filter((word) => word !== '').join(', ');
}
