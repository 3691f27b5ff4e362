/**
 * Languages as data: for each the recogniser's model, its phones, the words that its
 * dictionary lacks, the address phrase, and how the product's phrases are said in it.
 * The machine, the record and the screens know only the phrases as the product writes
 * them; what is spoken is translated on its way to the listeners and back (spoken-language.ts).
 */
import { err, fault, languageToText, ok, OWN_LANGUAGE } from '../../domain';
import type { Fault, Result } from '../../domain';
import { DEFAULT_ADDRESS_PHRASE } from './address-phrase';
import { LEXICON, PHONES } from './lexicon';
import french from './fr-fr.json';

export interface SpokenLanguage {
  /** BCP 47. */
  readonly tag: string;
  /** As people who speak it call it. */
  readonly name: string;
  /** Folder of the recogniser's model. */
  readonly model: string;
  readonly addressPhrase: string;
  /** The phones of the model, without silence and noises. */
  readonly phones: readonly string[];
  /** Words that the model's dictionary lacks, each with one or more ways to say it. */
  readonly lexicon: Readonly<Record<string, readonly string[]>>;
  /** Its words for the digits: the shortest that are said. */
  readonly digits: readonly string[];
  /** Whether the speech model was trained on it, and with it the phrase network. */
  readonly hasNetwork: boolean;
  /** The product's words, from the longest parts down to single ones, as they are said; null where they are said as written. */
  readonly says: Readonly<Record<string, string>> | null;
}

const ENGLISH: SpokenLanguage = {
  tag: OWN_LANGUAGE,
  name: 'English',
  model: 'en-us',
  addressPhrase: DEFAULT_ADDRESS_PHRASE,
  phones: PHONES,
  lexicon: LEXICON,
  digits: [
    'zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine',
  ], // prettier-ignore
  hasNetwork: true,
  says: null,
};

/** Every language that the wall can be spoken to; the first is the product's own. */
export const LANGUAGES: readonly [SpokenLanguage, ...SpokenLanguage[]] = [ENGLISH, french];

/** The language with this tag. Fault: `language-unknown`; nobody is heard in another one by silence. */
export function languageOf(tag: string): Result<SpokenLanguage, Fault> {
  const found = LANGUAGES.find((language) => language.tag === tag);
  if (found) return ok(found);
  const expected = LANGUAGES.map((language) => language.tag).join(', ');
  return err(fault('language-unknown', { language: languageToText(tag), expected }));
}
