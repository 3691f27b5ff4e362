/**
 * A vocabulary as it is said in another language, and what was heard back to the words
 * that the product writes. Nothing behind the ear knows that it was spoken otherwise.
 * A phrase is put together from the longest parts that the language has words for; one
 * that has a part without is left out and reported.
 */
import { fault } from '../../domain';
import type { Fault, HeardPhrase, Vocabulary } from '../../domain';
import { coverText } from '../cards/card-examples';
import type { SpokenLanguage } from './languages';

export class SpokenVocabulary {
  readonly #parts: ReadonlySet<string>;
  /** Every phrase that was ever legal here, by how it is said: late phrases come back too. */
  readonly #writtenOf = new Map<string, string>();

  constructor(readonly language: SpokenLanguage) {
    this.#parts = new Set(Object.keys(language.says ?? {}));
  }

  /** How the product's words are said; null where the language has no words for a part. */
  say(words: string): string | null {
    const { says } = this.language;
    if (says === null) return words;
    const parts = coverText(words, this.#parts);
    return parts.length === 0 ? null : parts.map((part) => says[part] ?? '').join(' ');
  }

  /** The vocabulary as it is said, and a fault for each phrase that can't be. */
  translate(vocabulary: Vocabulary): readonly [Vocabulary, readonly Fault[]] {
    const { says, addressPhrase, name } = this.language;
    if (says === null) return [vocabulary, []];
    const faults: Fault[] = [];
    const phrases = vocabulary.phrases.flatMap(({ words, order }) => {
      const said = this.say(words);
      if (said === null) {
        faults.push(fault('phrase-not-in-language', { words, language: name }));
        return [];
      }
      this.#writtenOf.set(said, words);
      return [{ words: said, order }];
    });
    // Without an address phrase here there is none in any language.
    const address = vocabulary.addressPhrase === '' ? '' : addressPhrase;
    return [{ ...vocabulary, addressPhrase: address, phrases }, faults];
  }

  /** What was heard, in the product's own words. */
  toWritten(heard: HeardPhrase): HeardPhrase {
    const write = (said: string): string => this.#writtenOf.get(said) ?? said;
    return {
      ...heard,
      words: heard.words === null ? null : write(heard.words),
      ...(heard.candidates && { candidates: heard.candidates.map(write) }),
    };
  }
}
