/**
 * A model's first run takes some three times as long as every later one (its code is compiled,
 * its memory grows), so each hears this once while it is loaded, and nobody waits for that at
 * the first phrase of a case.
 */
import { SAMPLE_RATE_HZ } from '../hearing/listener';

/** As long as a command with a size, in seconds. */
const LENGTH_S = 2.5;

/** Silence: what is made ready for a model (prepared-sound.ts) has quiet laid over it anyway. */
export const WARM_UP_SOUND = new Float32Array(LENGTH_S * SAMPLE_RATE_HZ);

/** As many texts as are asked about at once, with as many tokens. */
export const WARM_UP_TEXTS: readonly string[] = Array.from(
  { length: 12 },
  (_, index) => `one two three four five ${index}`,
);
