/**
 * Vocabulary to grammar: exactly the address phrase followed by one of the phrases
 * that are legal now. Pure. The way back is exact: a text is either one of the phrases
 * or nothing. A word that nobody can pronounce takes its phrases out of the grammar and
 * is reported, never a crash.
 */
import { fault } from '../../domain';
import type { Fault, Vocabulary } from '../../domain';
import { createWordGraph, END, START } from './word-graph';
import type { WordGraph } from './word-graph';

/** What a listener needs to hear one vocabulary. */
export interface Grammar {
  /** Words of the address phrase; none where it is not wanted. */
  readonly address: readonly string[];
  /** Address phrase, a space and the phrase, to the phrase as the vocabulary writes it; empty where nothing can be heard. */
  readonly phraseOf: ReadonlyMap<string, string>;
  /** One for each word without a pronunciation; its phrases are left out. */
  readonly faults: readonly Fault[];
}

/** Prefix of the words that stand for single phones, so that no real word is shadowed. */
const PHONE_WORD = 'phone_';

/** Letters of any language, apostrophes; anything else would be grammar syntax or unpronounceable. */
const SAYABLE = /^\p{Ll}[\p{Ll}']*$/u;

/** Makes the grammar; `canPronounce` says whether a word is in the dictionary or the lexicon. */
export function vocabularyToGrammar(
  { addressPhrase, phrases }: Vocabulary,
  canPronounce: (word: string) => boolean,
): Grammar {
  const unknown = new Set<string>();
  const isSayable = (text: string): boolean => {
    const missing = splitWords(text).filter((word) => !SAYABLE.test(word) || !canPronounce(word));
    for (const word of missing) unknown.add(word);
    return missing.length === 0;
  };
  const address = splitWords(addressPhrase).join(' ');
  const phraseOf = new Map<string, string>();
  const isAddressSayable = address === '' || isSayable(address);
  for (const { words } of phrases) {
    const said = splitWords(words).join(' ');
    if (isSayable(said) && isAddressSayable && said !== '')
      phraseOf.set(`${address} ${said}`.trim(), words);
  }
  const faults = [...unknown].map((word) => fault('word-not-pronounceable', { word }));
  return { address: splitWords(addressPhrase), phraseOf, faults };
}

/**
 * What the decoder walks; null where nothing can be heard. Beginnings of phrases are in
 * it too, and mean nothing: without them "depth two" before a pause would have to be taken
 * for the likeliest whole phrase.
 */
export function grammarToGraph({ address, phraseOf }: Grammar): WordGraph | null {
  if (phraseOf.size === 0) return null;
  return createWordGraph(address, [...phraseOf.values()].map(splitWords));
}

/**
 * Any sounds at all, one at least: what the commands are measured against. After each sound
 * it is as probable to end as to go on.
 */
export function createSoundsGraph(phones: readonly string[]): WordGraph {
  const probability = 1 / (2 * phones.length);
  const arcs = phones.map(phoneToWord).flatMap((word) => [
    { from: START, to: START, word, probability },
    { from: START, to: END, word, probability },
  ]);
  return { states: 2, arcs };
}

/** The dictionary entries that the graph of sounds needs: word and pronunciation. */
export function listPhoneWords(phones: readonly string[]): readonly (readonly [string, string])[] {
  return phones.map((phone) => [phoneToWord(phone), phone] as const);
}

/** The words of a text, lower case. */
export function splitWords(text: string): string[] {
  return text.toLowerCase().split(/\s+/).filter(Boolean);
}

/** Whether more may follow these words: "direction ten" where "direction ten thirty" is legal too. */
export function canGoOn(words: string, { phrases }: Vocabulary): boolean {
  return phrases.some((phrase) => phrase.words.startsWith(`${words} `));
}

function phoneToWord(phone: string): string {
  return PHONE_WORD + phone.toLowerCase();
}
