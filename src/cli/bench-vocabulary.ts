/** What is legal in the moments of a built-in procedure: for measuring the listeners on it. */
import { explore, listPhrases } from '../procedure';
import type { CompiledProcedure } from '../procedure';
import type { SpokenOrder } from '../domain';

/** Each phrase with everything that is legal in the busiest moment in which it is. */
export function listMoments(
  compiled: CompiledProcedure,
): readonly { readonly words: string; readonly legal: readonly SpokenOrder[] }[] {
  const busiest = new Map<string, readonly SpokenOrder[]>();
  for (const state of explore(compiled, { most: 3_000 }).states.values()) {
    const legal = listPhrases(compiled, state);
    for (const { words } of legal)
      if (legal.length > (busiest.get(words)?.length ?? 0)) busiest.set(words, legal);
  }
  return [...busiest]
    .map(([words, legal]) => ({ words, legal }))
    .sort((a, b) => (a.words < b.words ? -1 : 1));
}
