/**
 * Phrases in an order of likelihood, by the phrase network, by a card's examples or by the
 * text listener, and how far one leads the others. Phrases with the same order mean the
 * same. Pure.
 */
import type { Vocabulary } from '../../domain';
import { NETWORK_LIMITS, TEXT_LIMITS } from './decision-limits';

/** One phrase and its distance: from examples (0 is equal to one), or by the network. */
export interface PhraseAtDistance {
  readonly words: string;
  readonly distance: number;
  /** Sounds that the network heard at all, as a share of the phrase's own; undefined where it was not asked. */
  readonly shareOfSounds?: number;
}

/** What the text listener makes of the phrases that it was asked about, the likeliest first, distance being how much less likely than that. */
export interface TextOpinion {
  /** By the general speech model's own way of writing. */
  readonly text: readonly PhraseAtDistance[];
  /** By a small network of ours on what that model hears. */
  readonly head: readonly PhraseAtDistance[];
}

/** Where it was not asked, or heard nothing. */
export const NO_TEXT: TextOpinion = { text: [], head: [] };

/**
 * The network's ranking with what the cards say counted in: a phrase that is farther from
 * its examples than the nearest one is made less likely by that much. A phrase without
 * examples, or too unlikely to be compared, counts as if it stood between the nearest and
 * the next: where the card is sure of one phrase, it is less likely to be another.
 */
export function withCards(
  network: readonly PhraseAtDistance[],
  ranked: readonly PhraseAtDistance[],
): readonly PhraseAtDistance[] {
  const [nearest, next] = ranked;
  if (!nearest) return network;
  const lead = next ? next.distance - nearest.distance : 0;
  const unknown = NETWORK_LIMITS.shareOfUnknown * lead;
  const farther = new Map(
    ranked.map(({ words, distance }) => [words, distance - nearest.distance]),
  );
  return network
    .map((phrase) => ({
      ...phrase,
      distance:
        phrase.distance + NETWORK_LIMITS.perCardDistance * (farther.get(phrase.words) ?? unknown),
    }))
    .sort((a, b) => a.distance - b.distance);
}

/** A ranking with what the text listener says counted in. What it was not asked about is left as if it had been the unlikeliest. */
export function withText(
  ranking: readonly PhraseAtDistance[],
  { text, head }: TextOpinion,
): readonly PhraseAtDistance[] {
  if (text.length === 0) return ranking;
  const { perTextUnit, mostDistance, mostHeadDistance } = TEXT_LIMITS;
  const byText = upTo(mostDistance, text);
  const byHead = upTo(mostHeadDistance, head);
  return ranking
    .map((phrase) => ({
      ...phrase,
      distance: phrase.distance + perTextUnit * byText(phrase.words) + byHead(phrase.words),
    }))
    .sort((a, b) => a.distance - b.distance);
}

/** What the text listener by itself finds the likeliest of what it was asked about; null where it was not asked. */
export function likeliestByText(opinion: TextOpinion): string | null {
  const alike = opinion.text.map(({ words }) => ({ words, distance: 0 }));
  return withText(alike, opinion)[0]?.words ?? null;
}

/** How far a phrase is by this ranking; beyond a limit it says no more, for where a voice is a machine's it is sometimes far off. */
export function upTo(
  most: number,
  ranking: readonly PhraseAtDistance[],
): (words: string) => number {
  const distances = new Map(ranking.map(({ words, distance }) => [words, distance]));
  return (words) => Math.min(most, distances.get(words) ?? most);
}

/** Whether the network heard talk, however near its cards are. */
export function isTalk({ distance }: PhraseAtDistance): boolean {
  return distance > NETWORK_LIMITS.talkDistance;
}

/** How much farther the nearest phrase of another meaning is than the first one; infinite where there is none. */
export function gapAfter(ranked: readonly PhraseAtDistance[], vocabulary: Vocabulary): number {
  return ranked[0] ? gapOf(ranked[0], ranked, vocabulary) : Infinity;
}

/** The same for any of them: below 0 where another meaning is nearer. */
export function gapOf(
  { words: said, distance }: PhraseAtDistance,
  ranked: readonly PhraseAtDistance[],
  vocabulary: Vocabulary,
): number {
  const next = ranked.find(({ words }) => !isSameOrder(words, said, vocabulary));
  return next ? next.distance - distance : Infinity;
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
