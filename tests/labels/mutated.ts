/**
 * Labels with small faults put in, from a seed, and a check of what passes that shares
 * no code with the reader.
 */
import type { LabelData } from '../../src/domain';

const SEEDS = [
  ']d20151022222233336111412311715070710A213B1\u001d211234',
  '(01)09520123456788(17)271130(10)LOT-7',
  ']C10109521234543213172701311012345\u001d30\u00312',
  '+A123BJC5D6E71/$$52001510X3C',
  '+A99912345/$$52001510X3/16D20111212/S77DEFG457',
  '+J123AQ3451/$$3231231BC34567/S4012R',
  '+$$52001510X3GD',
];
const PIECES = [...'0123456789ABCXYZ+$/()]dC.- %\u001dé', '(01)', '17', '$$3'];

/** A generator of numbers from 0 to below a limit (mulberry32), the same for the same seed. */
function createPicker(seed: number): (limit: number) => number {
  let state = seed;
  return (limit) => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) % limit;
  };
}

/** Gives label after label, each with one to three changes. */
export function* mutations(seed: number, count: number): Generator<string> {
  const pick = createPicker(seed);
  for (let made = 0; made < count; made += 1) {
    let text = SEEDS[pick(SEEDS.length)] ?? '';
    for (let changes = 1 + pick(3); changes > 0; changes -= 1) {
      const at = pick(text.length + 1);
      const piece = PIECES[pick(PIECES.length)] ?? '';
      text = text.slice(0, at) + [piece, '', piece][pick(3)] + text.slice(at + pick(2));
    }
    yield text;
  }
}

/** Whether the check digit or character of what was read holds, worked out anew. */
export function isChecked({ scheme, product, readable }: LabelData): boolean {
  if (scheme === 'gs1') {
    if (product === null) return true;
    const digits = [...product.slice(0, 14)].map(Number);
    const sum = digits.reduce(
      (total, digit, place) => total + digit * (place % 2 === 0 ? 3 : 1),
      0,
    );
    return digits.length === 14 && sum % 10 === 0;
  }
  const values = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%';
  const all = [...readable].map((character) => values.indexOf(character));
  const last = all.pop() ?? -1;
  return !all.includes(-1) && all.reduce((total, value) => total + value, 0) % 43 === last;
}
