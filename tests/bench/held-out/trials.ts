/**
 * Which command is said by which held-out voice in which room, with everything legal that is
 * legal in the busiest moment of the phrase. Seeded: the same plan every time.
 */
import { DEFAULT_ADDRESS_PHRASE } from '../../../src/voice';
import { CLEAN, listConditions, place } from './conditions';
import type { Condition } from './conditions';
import { say } from './memory';
import { listSpokenMoments } from './moments';
import type { SpokenMoment } from './moments';

const SEED = 20;

export interface Trial {
  readonly moment: SpokenMoment;
  readonly voice: string;
  readonly condition: Condition;
  readonly seed: number;
}

/** How many commands are said in the quiet room, and in each other one? */
export interface Amount {
  readonly clean: number;
  readonly each: number;
}

/** Trials in an order that changes the vocabulary seldom. */
export function planTrials({ clean, each }: Amount, voices: readonly string[]): readonly Trial[] {
  const moments = listSpokenMoments(SEED);
  const trials: Trial[] = [];
  const add = (condition: Condition, count: number, first: number): void => {
    for (let index = 0; index < count; index += 1) {
      const moment = moments[(first + index) % moments.length];
      // The voice moves on with each round through the phrases, so that every pair comes.
      const turn = first + index + Math.floor((first + index) / moments.length);
      const voice = voices[turn % voices.length];
      if (moment && voice) trials.push({ moment, voice, condition, seed: 1_000 + trials.length });
    }
  };
  add(CLEAN, clean, 0);
  // Three rooms hear the same commands, the next three others.
  for (const [index, condition] of listConditions().entries())
    add(condition, each, Math.floor(index / 3) * each);
  const orderOf = new Map(trials.map(({ moment }) => moment.legal).map((legal, at) => [legal, at]));
  return trials.toSorted(
    (a, b) => (orderOf.get(a.moment.legal) ?? 0) - (orderOf.get(b.moment.legal) ?? 0),
  );
}

/** A trial's sound. */
export function soundOf(
  { moment, voice, condition, seed }: Trial,
  talk: readonly Float32Array[],
): Float32Array {
  return place(say(voice, `${DEFAULT_ADDRESS_PHRASE} ${moment.words}`), condition, seed, talk);
}
