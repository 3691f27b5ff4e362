/** Where the key of a chart stands: its signs and words in rows, part of the drawing. */
import type { ChartKey } from './line-parts';

/** Each sign but the ring as a path, 22 wide, around its own middle line. */
export const KEY_SIGNS: Readonly<Record<Exclude<ChartKey['kind'], 'ring'>, string>> = {
  dots: 'M11 0h0',
  thread: 'M0 0h22',
  second: 'M0 0h22',
  smooth: 'M0 0h22',
  band: 'M0 -6h22v12h-22z',
};

/** Sign and gaps beside the words of one key. */
const AROUND = 54;
/** Width of a character at the size of the key, on the wide side. */
const CHARACTER = 6.6;

/** Keys with where each begins, from left to right; one that has no room goes one row down. */
export function placeKeys<Key extends { readonly text: string }>(
  keys: readonly Key[],
  from: number,
  to: number,
): readonly (Key & { readonly left: number; readonly row: number })[] {
  let left = from;
  let row = 0;
  return keys.map((key) => {
    const width = AROUND + CHARACTER * key.text.length;
    if (left > from && left + width > to) {
      left = from;
      row += 1;
    }
    const placed = { ...key, left, row };
    left += width;
    return placed;
  });
}
