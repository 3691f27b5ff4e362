/**
 * What the text listener is asked about, and what its answer counts for beside being weighed
 * in (rankings.ts): it vouches for a phrase against the grammar, and it questions a size. Pure.
 */
import type { Vocabulary } from '../../domain';
import type { Opinions } from './decide-both';
import { NETWORK_LIMITS, TEXT_LIMITS } from './decision-limits';
import type { GrammarOpinion } from '../grammar/grammar-decision';
import { rivalByGrammar } from './grammar-rival';
import { gapAfter, isSameOrder, isTalk, isValue, upTo, withCards, withText } from './rankings';
import type { PhraseAtDistance } from './rankings';

/** A phrase that the text listener is asked about. */
export interface AskedPhrase extends PhraseAtDistance {
  /** Whether network or grammar by itself heard it: a rival of what all together make of it, however far it is. */
  readonly isNamed: boolean;
}

/**
 * What the text listener is to be asked about: the likeliest phrases, the likeliest sizes that
 * may not be said now, and what network and grammar heard. Nothing where its answer could
 * change nothing: it was talk, or the network by itself is as sure as it never was of anything
 * wrong.
 */
export function askedOfText(
  {
    grammar,
    network,
    ranked,
    unsayable,
  }: Omit<Opinions, 'text' | 'head' | 'knows' | 'secondVoice'>,
  vocabulary: Vocabulary,
): readonly AskedPhrase[] {
  const likely = withCards(network, ranked);
  const top = likely[0];
  if (!top || isTalk(top)) return [];
  const isSure =
    isSameOrder(network[0]?.words ?? null, top.words, vocabulary) &&
    gapAfter(network, vocabulary) >= TEXT_LIMITS.needlessGap &&
    (unsayable[0]?.distance ?? Infinity) - top.distance >= TEXT_LIMITS.needlessGap;
  if (isSure && !canVouch(grammar, top, vocabulary)) return [];
  const within = [
    ...likely.slice(0, TEXT_LIMITS.asked),
    ...unsayable.slice(0, TEXT_LIMITS.askedUnsayable),
  ].filter(({ distance }) => distance - top.distance <= TEXT_LIMITS.reach);
  const named = [network[0]?.words ?? null, grammar.words];
  const others = likely.filter(
    (phrase) => named.includes(phrase.words) && !within.includes(phrase),
  );
  return [...within, ...others].map(({ words, distance }) => ({
    words,
    distance,
    isNamed: named.includes(words),
  }));
}

/**
 * Which of them the model is to write, by far the dearest: the likeliest two, the head's word
 * counted in, what is near enough to come first yet, and what was named.
 */
export function askedOfWriting(
  asked: readonly AskedPhrase[],
  head: readonly PhraseAtDistance[],
): readonly string[] {
  const byHead = upTo(TEXT_LIMITS.mostHeadDistance, head);
  const likely = asked
    .map((phrase) => ({ ...phrase, distance: phrase.distance + byHead(phrase.words) }))
    .sort((a, b) => a.distance - b.distance);
  const most = (likely[0]?.distance ?? 0) + TEXT_LIMITS.reachOfWriting;
  return likely
    .filter(({ isNamed, distance }, index) => index < 2 || isNamed || distance <= most)
    .map(({ words }) => words);
}

/** Whether its word would make an end of what the grammar says against a phrase. */
function canVouch(grammar: GrammarOpinion, top: PhraseAtDistance, vocabulary: Vocabulary): boolean {
  return (
    rivalByGrammar(grammar, top, false, vocabulary) !== null &&
    rivalByGrammar(grammar, top, true, vocabulary) === null
  );
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
    (other?.distance ?? 0) >= TEXT_LIMITS.rivalDistance
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
function isLikelierUnsayable(opinions: Opinions, { words }: PhraseAtDistance): boolean {
  const own = withText(opinions.network, opinions).find((phrase) => phrase.words === words);
  const nearest = withText(opinions.unsayable, opinions)[0];
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
    (said?.distance ?? 0) >= TEXT_LIMITS.rivalDistance
  );
}
