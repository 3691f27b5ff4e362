/** How the values of a wanted size are put on the wall. Pure. */
import type { WantedView } from '../../session';

/** How many numbers, or words, can stand side by side in type that is read from five metres? */
const MOST_NUMBERS = 9;
const MOST_WORDS = 6;
/** How many characters of words fit side by side in the larger type? */
const ROOMY_CHARS = 26;

/**
 * "listed" shows every value, "tight" does so in smaller type, "range" the first and
 * the last; "none" leaves it to the drawing or to how it is said.
 */
export type WantedForm = 'listed' | 'tight' | 'range' | 'none';

/** Chooses the form from the kind and the number of values. */
export function formOf({ kind, options }: WantedView): WantedForm {
  if (kind === 'number' || kind === 'quantity')
    return options.length <= MOST_NUMBERS ? 'listed' : 'range';
  if ((kind !== 'choice' && kind !== 'yes-no') || options.length > MOST_WORDS) return 'none';
  const longest = Math.max(...options.map(({ text }) => text.length));
  return longest * options.length <= ROOMY_CHARS ? 'listed' : 'tight';
}

/** "Depth, mm"; degrees are spelt out, since the sign alone is small. */
export function labelWithUnit({ label, unit }: WantedView): string {
  return unit === '' ? label : `${label}, ${unit === '°' ? 'degrees' : unit}`;
}
