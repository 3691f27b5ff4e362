/**
 * What the text listener is asked about, and what its answer counts for beside being weighed
 * in (rankings.ts): it vouches for a phrase against the grammar, and it questions a size. Pure.
 */
import type { Vocabulary } from '../domain';
import type { Opinions } from './decide-both';
import { NETWORK_LIMITS, TEXT_LIMITS } from './decision-limits';
import { gapAfter, isSameOrder, isTalk, isValue, withCards, withText } from './rankings';
import type { PhraseAtDistance } from './rankings';

/**
 * What the text listener is to be asked about: the likeliest phrases, and the grammar's.
 * Nothing where its answer could change nothing: it was talk, or the network by itself is
 * as sure as it never was of anything wrong.
 */
export function askedOfText(
  { grammar, network, ranked, unsayable }: Omit<Opinions, 'text' | 'knows' | 'secondVoice'>,
  vocabulary: Vocabulary,
): readonly string[] {
  const likely = withCards(network, ranked);
  const top = likely[0];
  if (!top || isTalk(top)) return [];
  const isContested = grammar.words !== null && !isSameOrder(grammar.words, top.words, vocabulary);
  const isSure =
    !isContested &&
    isSameOrder(network[0]?.words ?? null, top.words, vocabulary) &&
    gapAfter(network, vocabulary) >= TEXT_LIMITS.needlessGap &&
    (unsayable[0]?.distance ?? Infinity) - top.distance >= TEXT_LIMITS.needlessGap;
  if (isSure) return [];
  const phrases = [
    ...likely.slice(0, TEXT_LIMITS.asked),
    ...unsayable.slice(0, TEXT_LIMITS.askedUnsayable),
  ].map(({ words }) => words);
  return [...new Set(grammar.words === null ? phrases : [...phrases, grammar.words])];
}

/** Whether the text listener hears this phrase too, and finds the grammar's far less likely. */
export function isBackedByText(
  { grammar, text }: Opinions,
  top: PhraseAtDistance,
  vocabulary: Vocabulary,
): boolean {
  const other = text.find(({ words }) => words === grammar.words);
  return (
    isSameOrder(text[0]?.words ?? null, top.words, vocabulary) &&
    (other?.distance ?? 0) >= TEXT_LIMITS.rivalDistanceOfSize
  );
}

/** Whether a size is to be asked about although nothing that may be said now contests it. */
export function isQuestioned(
  opinions: Opinions,
  top: PhraseAtDistance,
  vocabulary: Vocabulary,
): boolean {
  return isDoubtedByText(opinions.text, top, vocabulary) || isLikelierUnsayable(opinions, top);
}

/** Whether a size that may not be said now is likelier than this one, to network and text listener together. */
function isLikelierUnsayable(
  { network, unsayable, text }: Opinions,
  { words }: PhraseAtDistance,
): boolean {
  const own = withText(network, text).find((phrase) => phrase.words === words);
  const nearest = withText(unsayable, text)[0];
  return own !== undefined && nearest !== undefined
    ? own.distance - nearest.distance >= NETWORK_LIMITS.unsayableLead
    : false;
}

/** Whether the text listener finds a size far less likely than something else, sayable or not. */
function isDoubtedByText(
  text: readonly PhraseAtDistance[],
  top: PhraseAtDistance,
  vocabulary: Vocabulary,
): boolean {
  const first = text[0]?.words ?? top.words;
  const said = text.find(({ words }) => words === top.words);
  const isSize = isValue(first, vocabulary) || isValue(top.words, vocabulary);
  return (
    isSize &&
    !isSameOrder(first, top.words, vocabulary) &&
    (said?.distance ?? 0) >= TEXT_LIMITS.rivalDistanceOfSize
  );
}
