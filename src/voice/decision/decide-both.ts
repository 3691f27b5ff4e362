/**
 * One decision from grammar and cards, where the phrase network has no opinion. They fail
 * differently, so agreement counts for more than either: what both heard is taken; a size
 * needs both; where they differ or doubt, nothing is taken and the two likeliest phrases are
 * given to be said again. Pure.
 */
import type { HeardPhrase, Vocabulary } from '../../domain';
import { DECISION_LIMITS as LIMITS } from './decision-limits';
import { takenByGrammar } from '../grammar/grammar-decision';
import type { GrammarOpinion } from '../grammar/grammar-decision';
import { gapAfter, isSameOrder, isValue, NO_TEXT } from './rankings';
import type { PhraseAtDistance, TextOpinion } from './rankings';
import { scoreOf } from './score';
import type { Evidence } from './score';

/** What all listeners make of one utterance. */
export interface Opinions extends TextOpinion {
  readonly grammar: GrammarOpinion;
  /** Phrases with examples, the nearest first; empty where none of the legal ones has any. */
  readonly ranked: readonly PhraseAtDistance[];
  /**
   * What the phrase network makes of it, the likeliest first, distance being how much less
   * likely than the likeliest path of all (natural log); empty where the language has none.
   */
  readonly network: readonly PhraseAtDistance[];
  /** The likeliest sizes with a number that may not be said now, as the network ranks them. */
  readonly unsayable: readonly PhraseAtDistance[];
  /** How unlikely it is that the address phrase was said first, as the network hears it; missing where that can't be told. */
  readonly addressDistance?: number;
  /** Whether there are examples of a phrase. */
  readonly knows: (words: string) => boolean;
  /** In which part of the loud sound a second voice is heard, 0 to 1; asked only where it matters. */
  readonly secondVoice: () => number;
}

/** What is taken, or asked about. */
export type Choice = Pick<HeardPhrase, 'words' | 'candidates' | 'hasTwoVoices' | 'isTalk'>;
export type Decision = Choice & Pick<HeardPhrase, 'score'>;

const NOTHING: Choice = { words: null };

/** A choice with the probability of its phrase, or of the first of the two that are asked about. */
export function withScore(choice: Choice, evidence: Evidence, vocabulary: Vocabulary): Decision {
  const given = choice.words ?? choice.candidates?.[0] ?? null;
  return { ...choice, score: scoreOf(given, evidence, vocabulary) };
}

/** What the grammar takes where it is the only listener. */
export function decideByGrammar(grammar: GrammarOpinion, vocabulary: Vocabulary): Decision {
  return withScore(
    { words: takenByGrammar(grammar) },
    { grammar, network: [], ranked: [], ...NO_TEXT },
    vocabulary,
  );
}

/** Chooses with the vocabulary of this moment: phrases with the same order mean the same. */
export function chooseWithoutNetwork(opinions: Opinions, vocabulary: Vocabulary): Choice {
  const { grammar, ranked, knows } = opinions;
  const nearest = ranked[0];
  // Without an example the second listener has no opinion of what the grammar heard.
  if (!nearest || (grammar.words !== null && !knows(grammar.words)))
    return alone(grammar, vocabulary, nearest);
  if (isSameOrder(grammar.words, nearest.words, vocabulary))
    return isAgreedEnough(grammar, nearest) ? { words: grammar.words } : NOTHING;
  const gap = gapAfter(ranked, vocabulary);
  return isSureAlone(grammar, nearest, gap, vocabulary)
    ? { words: nearest.words }
    : doubt(opinions, nearest, vocabulary);
}

function alone(
  grammar: GrammarOpinion,
  vocabulary: Vocabulary,
  nearest: PhraseAtDistance | undefined,
): Choice {
  const words = takenByGrammar(grammar);
  const isContested =
    words !== null &&
    nearest !== undefined &&
    nearest.distance <= LIMITS.aloneDistance &&
    (isValue(words, vocabulary) || isValue(nearest.words, vocabulary));
  return isContested ? { words: null, candidates: [words, nearest.words] } : { words };
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
    nearest.distance <= LIMITS.aloneDistance &&
    gap >= LIMITS.aloneGap &&
    takenByGrammar(grammar) === null
  );
}

/** Both are asked about, unless it is talk: no example near, nothing that the grammar finds likely. */
function doubt(
  { grammar, ranked }: Opinions,
  nearest: PhraseAtDistance,
  vocabulary: Vocabulary,
): Choice {
  // A near example settles it: then the margin, half of the grammar's work, is not asked for.
  if (nearest.distance > LIMITS.doubtDistance && takenByGrammar(grammar) === null) return NOTHING;
  const other =
    grammar.words ??
    ranked.find(({ words }) => !isSameOrder(words, nearest.words, vocabulary))?.words;
  return other === undefined ? NOTHING : { words: null, candidates: [nearest.words, other] };
}
