/** Where the key of a chart stands: its signs and words in one row, part of the drawing. */
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

/** The keys with where each begins, from left to right. */
export function placeKeys(
  keys: readonly ChartKey[],
  from: number,
): readonly (ChartKey & { readonly left: number })[] {
  let left = from;
  return keys.map((key) => {
    const placed = { ...key, left };
    left += AROUND + CHARACTER * key.text.length;
    return placed;
  });
}
