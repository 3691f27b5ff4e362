/**
 * The decision where the phrase network has an opinion. It hears strangers and noise far
 * better than the other two, so a clear opinion of its own is taken, unless another
 * listener contests it: then, and where it doubts, the two candidates are asked about. Pure.
 */
import type { Vocabulary } from '../domain';
import type { Decision, Opinions, PhraseAtDistance } from './decide-both';
import { decideWithoutNetwork, gapAfter, isSameOrder, isValue } from './decide-both';
import { DECISION_LIMITS, NETWORK_LIMITS as LIMITS, TWO_VOICES_LIMITS } from './decision-limits';
import type { GrammarOpinion } from './grammar-decision';

/** Decides with the vocabulary of this moment; what two people said at once is refused, not guessed. */
export function decideFromAll(opinions: Opinions, vocabulary: Vocabulary): Decision {
  const decision = decideAsOneVoice(opinions, vocabulary);
  // Talk among others is nothing to be told about.
  if (decision.words === null && !decision.candidates) return decision;
  return areTwoVoices(opinions) ? { words: null, score: 0, hasTwoVoices: true } : decision;
}

function areTwoVoices({ network, secondVoice }: Opinions): boolean {
  const share = secondVoice();
  const isClear = (network?.[0]?.distance ?? Infinity) <= TWO_VOICES_LIMITS.clearDistance;
  return share >= (isClear ? TWO_VOICES_LIMITS.sureShare : TWO_VOICES_LIMITS.likelyShare);
}

/** Without a network's opinion the other two decide. */
function decideAsOneVoice(opinions: Opinions, vocabulary: Vocabulary): Decision {
  const { grammar, network } = opinions;
  const top = network?.[0];
  if (!network || !top) return decideWithoutNetwork(opinions, vocabulary);
  if (top.distance > LIMITS.talkDistance) return onlyAgreed(opinions, vocabulary);
  const gap = gapAfter(network, vocabulary);
  const score = networkProbability(top.distance, gap);
  const rival = rivalOf(opinions, top, vocabulary);
  const isClear = top.distance <= LIMITS.sureDistance && gap >= LIMITS.sureGap;
  if (isClear && rival === null) return { words: top.words, score };
  const isBacked =
    isSameOrder(grammar.words, top.words, vocabulary) &&
    grammar.margin >= DECISION_LIMITS.agreedMargin &&
    gap >= LIMITS.backedGap;
  if (isBacked && rival === null) return { words: top.words, score };
  const other = rival ?? secondOf(network, top, vocabulary);
  return { words: null, score, candidates: other === null ? [top.words] : [top.words, other] };
}

/** Probability that the network's phrase is what was said. */
export function networkProbability(distance: number, gap: number): number {
  const { perGap, perDistance, middle } = LIMITS.odds;
  const amongPhrases = 1 / (1 + Math.exp(-perGap * gap));
  const anyPhrase = 1 / (1 + Math.exp(perDistance * (distance - middle)));
  return amongPhrases * anyPhrase;
}

/** To the network it was talk: it takes both of the others to say otherwise. */
function onlyAgreed(opinions: Opinions, vocabulary: Vocabulary): Decision {
  const decided = decideWithoutNetwork(opinions, vocabulary);
  return isSameOrder(decided.words, opinions.grammar.words, vocabulary)
    ? decided
    : { words: null, score: 0 };
}

/** A phrase of another meaning that the grammar or the examples are sure enough of; null where there is none. */
function rivalOf(
  { grammar, ranked }: Opinions,
  top: PhraseAtDistance,
  vocabulary: Vocabulary,
): string | null {
  const differs = (words: string | null | undefined): words is string =>
    typeof words === 'string' && !isSameOrder(words, top.words, vocabulary);
  if (differs(grammar.words) && isContesting(grammar, top.words, vocabulary)) return grammar.words;
  const nearest = ranked[0];
  const isNear = nearest !== undefined && nearest.distance <= LIMITS.rivalDistance;
  return isNear && differs(nearest.words) ? nearest.words : null;
}

/** For a size a weaker objection is enough. */
function isContesting(grammar: GrammarOpinion, words: string, vocabulary: Vocabulary): boolean {
  const isSize = isValue(words, vocabulary) || isValue(grammar.words ?? '', vocabulary);
  return (
    grammar.unexplainedMs <= DECISION_LIMITS.unexplainedMs &&
    grammar.margin >= (isSize ? LIMITS.rivalMarginOfSize : DECISION_LIMITS.grammarMargin)
  );
}

function secondOf(
  network: readonly PhraseAtDistance[],
  top: PhraseAtDistance,
  vocabulary: Vocabulary,
): string | null {
  return network.find(({ words }) => !isSameOrder(words, top.words, vocabulary))?.words ?? null;
}
