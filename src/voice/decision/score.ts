/**
 * How sure a decision is: the probability that the phrase that is given, or asked about
 * first, is what was said. One function for each listener and for all together: the
 * log-odds are a weighted sum of what speaks for the phrase, with weights for each set of
 * listeners that knew it (calibration.ts). The grammar's margin costs half of its work,
 * so it counts only where nothing else does, and was asked for anyway. Pure.
 */
import type { Vocabulary } from '../../domain';
import { CALIBRATION, LEAST, MOST } from './calibration';
import type { Features, KnownBy, Weights } from './calibration';
import type { GrammarOpinion } from '../grammar/grammar-decision';
import { gapOf, isSameOrder, withCards, withText } from './rankings';
import type { PhraseAtDistance, TextOpinion } from './rankings';

/** What was made of an utterance; `grammar` is null where it was not asked. */
export interface Evidence extends TextOpinion {
  readonly grammar: Pick<GrammarOpinion, 'words' | 'margin'> | null;
  readonly network: readonly PhraseAtDistance[];
  readonly ranked: readonly PhraseAtDistance[];
}

interface Described {
  readonly knownBy: KnownBy | null;
  readonly features: Features;
}

/** 0 to 1; 0 where no phrase is given. */
export function scoreOf(words: string | null, evidence: Evidence, vocabulary: Vocabulary): number {
  if (words === null) return 0;
  const { knownBy, features } = describeEvidence(words, evidence, vocabulary);
  if (knownBy === null) return 0;
  return weigh(features, CALIBRATION[knownBy]);
}

/** What speaks for this phrase, and who says so; nobody where no listener that was asked knows it. */
export function describeEvidence(
  words: string,
  { grammar, network: alone, ranked, text, head }: Evidence,
  vocabulary: Vocabulary,
): Described {
  const network = withCards(alone, ranked);
  const byNetwork = network.find((phrase) => phrase.words === words);
  const byCard = ranked.find((phrase) => phrase.words === words);
  // It is asked after the two, about what they made of it.
  const byText = byNetwork && grammar && text.find((phrase) => phrase.words === words);
  if (!byNetwork && !byCard) return describeAlone(words, { grammar, text, head }, vocabulary);
  const features: Features = {
    ...(byNetwork && {
      networkNearness: -Math.max(LEAST.networkDistance, byNetwork.distance),
      networkGap: within(
        gapIn(withText(network, { text, head }), words, vocabulary),
        0,
        MOST.networkGap,
      ),
    }),
    ...(byCard && {
      cardNearness: -byCard.distance,
      cardGap: within(gapOf(byCard, ranked, vocabulary), -MOST.cardGap, MOST.cardGap),
    }),
    ...(byText && describeText(words, { text, head }, vocabulary)),
    ...(grammar && describeGrammar(words, grammar.words, vocabulary)),
  };
  const knownBy = [byNetwork && 'network', byCard && 'card', grammar && 'grammar', byText && 'text']
    .filter(Boolean)
    .join(', ') as KnownBy;
  return { knownBy, features };
}

/** Where neither network nor card knows it: by the grammar, or, where that was not asked either, by the text listener. */
function describeAlone(
  words: string,
  { grammar, text, head }: Pick<Evidence, 'grammar' | 'text' | 'head'>,
  vocabulary: Vocabulary,
): Described {
  if (grammar && isSameOrder(grammar.words, words, vocabulary))
    return {
      knownBy: 'grammar',
      features: { margin: within(grammar.margin(), LEAST.margin, MOST.margin) },
    };
  return !grammar && text.some((phrase) => phrase.words === words)
    ? { knownBy: 'text', features: describeText(words, { text, head }, vocabulary) }
    : { knownBy: null, features: {} };
}

function describeText(
  words: string,
  { text, head }: TextOpinion,
  vocabulary: Vocabulary,
): Features {
  return {
    textGap: within(gapIn(text, words, vocabulary), -MOST.textGap, MOST.textGap),
    headGap: within(gapIn(head, words, vocabulary), -MOST.headGap, MOST.headGap),
  };
}

/** 0 where it is not among them. */
function gapIn(
  ranking: readonly PhraseAtDistance[],
  words: string,
  vocabulary: Vocabulary,
): number {
  const phrase = ranking.find((one) => one.words === words);
  return phrase ? gapOf(phrase, ranking, vocabulary) : 0;
}

function describeGrammar(words: string, heard: string | null, vocabulary: Vocabulary): Features {
  const isNamed = isSameOrder(heard, words, vocabulary);
  return { isNamed: Number(isNamed), isUncontested: Number(isNamed || heard === null) };
}

/** The logistic function of bias and weighted features; a feature without a weight counts nothing. */
export function weigh(features: Features, { bias, ...weights }: Weights): number {
  const logOdds = (Object.keys(features) as (keyof Features)[]).reduce(
    (sum, name) => sum + (weights[name] ?? 0) * (features[name] ?? 0),
    bias,
  );
  return 1 / (1 + Math.exp(-logOdds));
}

function within(x: number, least: number, most: number): number {
  return Math.max(least, Math.min(most, x));
}
