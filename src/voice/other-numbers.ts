/**
 * Sizes that may not be said now, next to those that may: "depth two five" beside "depth two
 * four". Whoever says one must not be taken for the nearest that may be said. Pure.
 */
import { numberWordsLike } from '../domain';
import type { Vocabulary } from '../domain';
import { splitWords } from './grammar';
import { isValue } from './rankings';

/** Each size with one of its numbers said otherwise, as far as that may not be said now. */
export function listOtherNumbers(
  phrases: readonly string[],
  vocabulary: Vocabulary,
): readonly string[] {
  const legal = new Set(vocabulary.phrases.map(({ words }) => words));
  const others = phrases.filter((words) => isValue(words, vocabulary)).flatMap(sayOtherwise);
  return [...new Set(others)].filter((words) => !legal.has(words));
}

function sayOtherwise(phrase: string): readonly string[] {
  const words = splitWords(phrase);
  return words.flatMap((word, index) =>
    numberWordsLike(word).map((other) => words.with(index, other).join(' ')),
  );
}
