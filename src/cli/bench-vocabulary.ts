/** What is legal in the moments of a built-in procedure: for measuring the listeners on it. */
import { explore, listPhrases } from '../procedure';
import type { CaseState, CompiledProcedure } from '../procedure';
import type { SpokenOrder } from '../domain';

/** A phrase, the busiest moment in which it is legal, and what else is legal then. */
export interface Moment {
  readonly words: string;
  readonly legal: readonly SpokenOrder[];
  readonly state: CaseState;
}

/** Each phrase with everything that is legal in the busiest moment in which it is. */
export function listMoments(compiled: CompiledProcedure): readonly Moment[] {
  const busiest = new Map<string, Moment>();
  for (const state of explore(compiled, { most: 3_000 }).states.values()) {
    const legal = listPhrases(compiled, state);
    for (const { words } of legal)
      if (legal.length > (busiest.get(words)?.legal.length ?? 0))
        busiest.set(words, { words, legal, state });
  }
  return [...busiest.values()].sort((a, b) => (a.words < b.words ? -1 : 1));
}
