/**
 * What the grammar says against a phrase. For a size a weaker objection is enough, but where
 * the speaker's own card or the text listener vouches for it. Pure.
 */
import type { Vocabulary } from '../../domain';
import { DECISION_LIMITS, NETWORK_LIMITS as LIMITS } from './decision-limits';
import type { GrammarOpinion } from '../grammar/grammar-decision';
import { isSameOrder, isValue } from './rankings';
import type { PhraseAtDistance } from './rankings';

/** A phrase of another meaning that the grammar is sure enough of; null where there is none. */
export function rivalByGrammar(
  grammar: GrammarOpinion,
  top: PhraseAtDistance,
  isVouchedFor: boolean,
  vocabulary: Vocabulary,
): string | null {
  const isOther = grammar.words !== null && !isSameOrder(grammar.words, top.words, vocabulary);
  return isOther && isContesting(grammar, top.words, isVouchedFor, vocabulary)
    ? grammar.words
    : null;
}

function isContesting(
  grammar: GrammarOpinion,
  words: string,
  isVouchedFor: boolean,
  vocabulary: Vocabulary,
): boolean {
  const isSize = isValue(words, vocabulary) || isValue(grammar.words ?? '', vocabulary);
  const leastOfStranger = isSize ? LIMITS.rivalMarginOfSize : DECISION_LIMITS.grammarMargin;
  return (
    grammar.unexplainedMs <= DECISION_LIMITS.unexplainedMs &&
    grammar.margin() >= (isVouchedFor ? LIMITS.rivalMarginOfVouched : leastOfStranger)
  );
}
