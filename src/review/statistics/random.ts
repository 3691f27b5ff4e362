/**
 * Random numbers from a seed: the same seed gives the same numbers on every machine,
 * so that a forecast does not flicker and invented data can be made again.
 */
import { normalQuantile } from './normal';

export interface Random {
  /** Between 0 and 1, neither included. */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
  /** A whole number from 0 to below `count`. */
  below(count: number): number;
}

/** A source from a seed: the generator "mulberry32", good enough to simulate and never for secrets. */
export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (((mixed ^ (mixed >>> 14)) >>> 0) + 0.5) / 4294967296;
  };
  return {
    uniform,
    normal: () => normalQuantile(uniform()),
    below: (count) => Math.floor(uniform() * count),
  };
}
