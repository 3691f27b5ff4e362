/**
 * One decision from two listeners. They fail differently, so agreement counts for more
 * than either: what both heard is taken; a size needs both; where they differ or doubt,
 * nothing is taken and the two likeliest phrases are given to be said again. Pure.
 */
import type { HeardPhrase, Vocabulary } from '../domain';
import { CALIBRATION, DECISION_LIMITS as LIMITS } from './decision-limits';
import { decideByGrammar } from './grammar-decision';
import type { GrammarOpinion } from './grammar-decision';

/** A greater gap says no more; as in the regression. */
const MOST_GAP = 0.3;

/** One legal phrase and its distance from examples: 0 is equal to one. */
export interface PhraseAtDistance {
  readonly words: string;
  readonly distance: number;
  /** Sounds that the network heard at all, as a share of the phrase's own; undefined where it was not asked. */
  readonly shareOfSounds?: number;
}

/** What the two make of one utterance. */
export interface Opinions {
  readonly grammar: GrammarOpinion;
  /** Phrases with examples, the nearest first; empty where none of the legal ones has any. */
  readonly ranked: readonly PhraseAtDistance[];
  /**
   * What the phrase network makes of it, the likeliest first, distance being how much less
   * likely than the likeliest path of all (natural log); empty where the language has none.
   */
  readonly network: readonly PhraseAtDistance[];
  /** Whether there are examples of a phrase. */
  readonly knows: (words: string) => boolean;
  /** In which part of the loud sound a second voice is heard, 0 to 1; asked only where it matters. */
  readonly secondVoice: () => number;
}

export type Decision = Pick<HeardPhrase, 'words' | 'score' | 'candidates' | 'hasTwoVoices'>;

/** Decides with the vocabulary of this moment: phrases with the same order mean the same. */
export function decideWithoutNetwork(opinions: Opinions, vocabulary: Vocabulary): Decision {
  const { grammar, ranked, knows } = opinions;
  const nearest = ranked[0];
  // Without an example the second listener has no opinion of what the grammar heard.
  if (!nearest || (grammar.words !== null && !knows(grammar.words)))
    return alone(grammar, vocabulary, nearest ? ranked : []);
  if (isSameOrder(grammar.words, nearest.words, vocabulary)) {
    return isAgreedEnough(grammar, nearest)
      ? { words: grammar.words, score: agreedProbability(opinions, vocabulary) }
      : { words: null, score: 0 };
  }
  const gap = gapAfter(ranked, vocabulary);
  if (isSureAlone(grammar, nearest, gap, vocabulary))
    return { words: nearest.words, score: cardProbability(nearest.distance, gap) };
  return doubt(opinions, vocabulary);
}

/** Probability that the nearest phrase is what was said. */
function cardProbability(distance: number, gap: number): number {
  const { bias, distance: perDistance, gap: perGap } = CALIBRATION.card;
  return sigmoid(bias + perDistance * distance + perGap * Math.min(gap, MOST_GAP));
}

/** Probability that the grammar's phrase is what was said. */
export function grammarProbability(margin: number): number {
  return margin === -Infinity
    ? 0
    : sigmoid(CALIBRATION.grammar.bias + CALIBRATION.grammar.margin * margin);
}

/** How much farther the nearest phrase of another meaning is; infinite where there is none. */
export function gapAfter(ranked: readonly PhraseAtDistance[], vocabulary: Vocabulary): number {
  const [nearest, ...others] = ranked;
  const next = others.find(({ words }) => !isSameOrder(words, nearest?.words ?? null, vocabulary));
  return next && nearest ? next.distance - nearest.distance : Infinity;
}

function alone(
  grammar: GrammarOpinion,
  vocabulary: Vocabulary,
  ranked: readonly PhraseAtDistance[],
): Decision {
  const { words, score } = decideByGrammar(grammar);
  const nearest = ranked[0];
  const isContested =
    words !== null &&
    nearest !== undefined &&
    nearest.distance <= LIMITS.aloneDistance &&
    (isValue(words, vocabulary) || isValue(nearest.words, vocabulary));
  return isContested
    ? { words: null, score, candidates: [words, nearest.words] }
    : { words, score };
}

function isAgreedEnough(grammar: GrammarOpinion, nearest: PhraseAtDistance): boolean {
  return (
    nearest.distance <= LIMITS.agreedDistance &&
    grammar.unexplainedMs <= LIMITS.unexplainedMs &&
    grammar.margin() >= LIMITS.agreedMargin
  );
}

/** A size is never taken on one listener's word, nor any order against a likely other one. */
function isSureAlone(
  grammar: GrammarOpinion,
  nearest: PhraseAtDistance,
  gap: number,
  vocabulary: Vocabulary,
): boolean {
  return (
    !isValue(nearest.words, vocabulary) &&
    decideByGrammar(grammar).words === null &&
    nearest.distance <= LIMITS.aloneDistance &&
    gap >= LIMITS.aloneGap
  );
}

function doubt({ grammar, ranked }: Opinions, vocabulary: Vocabulary): Decision {
  const nearest = ranked[0];
  if (!nearest) return { words: null, score: 0 };
  const isNear = nearest.distance <= LIMITS.doubtDistance;
  const isLikely =
    grammar.unexplainedMs <= LIMITS.unexplainedMs && grammar.margin() >= LIMITS.grammarMargin;
  if (!isNear && !isLikely) return { words: null, score: 0 };
  const other =
    grammar.words ??
    ranked.find(({ words }) => !isSameOrder(words, nearest.words, vocabulary))?.words;
  const score = cardProbability(nearest.distance, gapAfter(ranked, vocabulary));
  return { words: null, score, ...(other !== undefined && { candidates: [nearest.words, other] }) };
}

/** Probability that not both are wrong, their errors taken as independent; never below either one's own. */
function agreedProbability({ grammar, ranked }: Opinions, vocabulary: Vocabulary): number {
  const e = cardProbability(ranked[0]?.distance ?? Infinity, gapAfter(ranked, vocabulary));
  return 1 - (1 - e) * (1 - grammarProbability(grammar.margin()));
}

export function isSameOrder(a: string | null, b: string | null, vocabulary: Vocabulary): boolean {
  if (a === null || b === null) return false;
  return a === b || orderKey(a, vocabulary) === orderKey(b, vocabulary);
}

export function isValue(words: string, { phrases }: Vocabulary): boolean {
  return phrases.some((phrase) => phrase.words === words && phrase.order.type === 'capture.offer');
}

function orderKey(words: string, { phrases }: Vocabulary): string {
  return JSON.stringify(phrases.find((phrase) => phrase.words === words)?.order ?? words);
}

function sigmoid(x: number): number {
  return 1 / (1 + Math.exp(-x));
}
