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

/** How wide a text is, on the wide side. */
function textWidth(text: string): number {
  return CHARACTER * text.length;
}

/** What stands under the cases that limits are taken from, as far as there is room. */
export function fitBaseline(count: number, room: number): string {
  const texts = [`baseline: first ${count} cases`, `baseline ${count}`, String(count)];
  return texts.find((text) => textWidth(text) + 8 <= room) ?? '';
}

/** Keys with where each begins, from left to right; one that has no room goes one row down. */
export function placeKeys<Key extends { readonly text: string }>(
  keys: readonly Key[],
  from: number,
  to: number,
): readonly (Key & { readonly left: number; readonly row: number })[] {
  let left = from;
  let row = 0;
  return keys.map((key) => {
    const width = AROUND + textWidth(key.text);
    if (left > from && left + width > to) {
      left = from;
      row += 1;
    }
    const placed = { ...key, left, row };
    left += width;
    return placed;
  });
}
