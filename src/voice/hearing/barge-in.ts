/**
 * What may be heard while the wall itself speaks. Only where the browser takes the
 * wall's own voice out of the sound (echo cancellation), only a whole phrase with the
 * address phrase, and nothing that the wall is saying at that moment. Pure.
 */

/** The wall's own voice, as far as the ear has to know it. */
export interface WallSpeech {
  /** Whether a person can be heard beside it. */
  readonly isEchoCancelled: boolean;
  /** What is being said, in pieces. */
  readonly texts: readonly string[];
}

/** How far below the people's usual level is sound still a person, in dB? What is left of an echo lies lower. */
const PERSON_RANGE_DB = 18;

/** The level from which on sound is a person, while the wall speaks; null before anybody was heard: then nobody is. */
export function personLevelDb(speechDb: number | null, gainDb: number): number | null {
  return speechDb === null ? null : speechDb + gainDb - PERSON_RANGE_DB;
}

/** Whether a phrase may be what is left of the wall's own words: all of its words are in them, in order. */
export function isEchoOf(words: string, texts: readonly string[]): boolean {
  const wanted = wordsOf(words);
  let found = 0;
  for (const word of texts.flatMap(wordsOf)) if (word === wanted[found]) found += 1;
  return found === wanted.length;
}

function wordsOf(text: string): readonly string[] {
  return text.toLowerCase().match(/[a-z0-9']+/g) ?? [];
}
