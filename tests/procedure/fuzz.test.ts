/**
 * Thousands of broken files: a fixed seed and a bounded number in every run; more with
 * FUZZ_MUTANTS (and FUZZ_SEED) in the environment.
 */
import { describe, expect, it } from 'vitest';
import { BUILT_IN } from '../../src/procedure/library';
import { BASE } from './corpus/corpus';
import { createRandom, mutate, tryMutant } from './fuzz';
import type { Outcome } from './fuzz';

const MUTANTS = Number(process.env['FUZZ_MUTANTS'] ?? 400);
const SEED = Number(process.env['FUZZ_SEED'] ?? 20_261);
/** States walked and orders given for each mutant that compiles. */
const MOST_STATES = 40;
const ORDERS = 120;

describe('fuzzing', () => {
  it('[CHK10] no mutant makes the checker throw, and whatever it accepts runs', () => {
    const outcomes: Record<Outcome, number> = { refused: 0, stuck: 0, ran: 0 };
    const good = [BASE, ...Object.values(BUILT_IN)];
    for (let index = 0; index < MUTANTS; index += 1) {
      const random = createRandom(SEED + index);
      const mutant = mutate(good[index % good.length], random);
      try {
        outcomes[tryMutant(mutant, random, MOST_STATES, ORDERS)] += 1;
      } catch (cause) {
        throw new Error(`Mutant of seed ${SEED + index}, file ${index % good.length}`, { cause });
      }
    }
    console.info(`${MUTANTS} mutants from seed ${SEED}: ${JSON.stringify(outcomes)}`);
    // Neither everything nor nothing is refused: both ways are tried.
    expect(outcomes.refused).toBeGreaterThan(MUTANTS / 10);
    expect(outcomes.ran).toBeGreaterThan(MUTANTS / 20);
  }, 36_000_000);
});
