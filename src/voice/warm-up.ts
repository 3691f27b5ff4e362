/**
 * A model's first run takes some three times as long as every later one (its code is compiled,
 * its memory grows), so each hears this once while it is loaded, and nobody waits for that at
 * the first phrase of a case.
 */
import { SAMPLE_RATE_HZ } from './listener';

/** As long as a command with a size, in seconds. */
const LENGTH_S = 2.5;
const LEVEL = 0.05;

/** Hiss with nothing in it. */
export function warmUpSound(): Float32Array {
  let seed = 1;
  return Float32Array.from({ length: LENGTH_S * SAMPLE_RATE_HZ }, () => {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
    return (seed / 2_147_483_648 - 1) * LEVEL;
  });
}

/** As many texts as are asked about at once, with as many tokens. */
export const WARM_UP_TEXTS: readonly string[] = Array.from(
  { length: 12 },
  (_, index) => `one two three four five ${index}`,
);
