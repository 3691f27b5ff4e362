/** Everything that can ever be said in a built-in procedure, without the address phrase. */
import { explore, isFree, listLegalValues, listPhrases, wordsForValue } from '../procedure';
import type { CompiledProcedure } from '../procedure';

/** Answers that are legal only in moments which the walk passes over in one move. */
const BETWEEN = ['confirm', 'wrong cancel that', 'leave it as it was', 'resume the clock'];

/** After how many moments is the walk cut short? Phrases repeat long before. */
const MOST_STATES = 3_000;

/** Each phrase once, sorted. */
export function listAllPhrases(compiled: CompiledProcedure): readonly string[] {
  const walked = [...explore(compiled, { most: MOST_STATES }).states.values()].flatMap((state) =>
    listPhrases(compiled, state).map(({ words }) => words),
  );
  const valued = [...compiled.captures.values()]
    .filter((capture) => !isFree(capture))
    .flatMap((capture) =>
      listLegalValues(capture).flatMap(({ value, words }) => [
        ...wordsForValue(capture, value),
        ...(capture.kind === 'report' ? [] : words.map((said) => `correct ${said}`)),
      ]),
    );
  return [...new Set([...walked, ...valued, ...BETWEEN])].sort();
}
