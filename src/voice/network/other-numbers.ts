/**
 * Sizes that may not be said now, next to those that may: "depth two five" beside "depth two
 * four", "depth sixty" beside "depth sixteen". Whoever says one must not be taken for the
 * nearest that may be said. A digit too many or too few is not thought of. Pure.
 */
import { numberWordsLike, soundAlikeOf } from '../../domain';
import type { Vocabulary } from '../../domain';
import { splitWords } from '../grammar/grammar';

/** Each phrase with one of its numbers said otherwise, as far as that may not be said now. */
export function listOtherNumbers(
  sizes: readonly string[],
  vocabulary: Vocabulary,
): readonly string[] {
  const legal = new Set(vocabulary.phrases.map(({ words }) => words));
  return [...new Set(sizes.flatMap(sayOtherwise))].filter((words) => !legal.has(words));
}

function sayOtherwise(phrase: string): readonly string[] {
  const words = splitWords(phrase);
  return words.flatMap((word, index) => {
    // "Sixty" by itself sounds like "sixteen"; before another number it can't be that.
    const isLast = numberWordsLike(words[index + 1] ?? '').length === 0;
    const alike = isLast ? soundAlikeOf(word) : null;
    const others = alike === null ? numberWordsLike(word) : [...numberWordsLike(word), alike];
    return others.map((other) => words.with(index, other).join(' '));
  });
}
