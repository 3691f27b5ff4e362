/** The legal phrases as the network knows them, and how well each explains what was heard. */
import { splitWords } from '../grammar/grammar';
import type { HeardSteps } from './phrase-network';
import type { PhraseAtDistance } from '../decision/rankings';
import type { SoundClasses } from './sound-classes';

/** The sounds of a word, by the CMU dictionary's phones; null where nobody knows it. */
export type Pronounce = (word: string) => readonly string[] | null;

/** A phrase as the numbers of its words, null where one was not trained as a word, and of its sounds. */
export interface Targets {
  readonly words: string;
  readonly wordIds: readonly number[] | null;
  readonly phoneIds: readonly number[];
}

/** Targets of each phrase that can be pronounced, the address phrase before each. */
export function toTargets(
  addressPhrase: string,
  phrases: readonly string[],
  classes: SoundClasses,
  pronounce: Pronounce,
): readonly Targets[] {
  return phrases.flatMap((words) => {
    const said = splitWords(`${addressPhrase} ${words}`);
    const sounds = said.map(pronounce);
    if (sounds.some((phones) => phones === null)) return [];
    const phoneIds = classes.phoneIds(sounds.flatMap((phones) => phones ?? []));
    return phoneIds ? [{ words, wordIds: classes.wordIds(said), phoneIds }] : [];
  });
}

/** How much less likely than the likeliest path of all each is, by words and sounds together, the likeliest first. */
export function rankPhrases(
  heard: HeardSteps,
  targets: readonly Targets[],
): readonly PhraseAtDistance[] {
  return targets
    .map(({ words, wordIds, phoneIds }) => {
      const bySounds = heard.phones.logLikelihood(phoneIds) - heard.phones.best;
      // A phrase with a word that was not trained is weighed by its sounds alone, twice.
      const byWords = wordIds ? heard.words.logLikelihood(wordIds) - heard.words.best : bySounds;
      const shareOfSounds = heard.phones.named / phoneIds.length;
      return { words, shareOfSounds, distance: -(byWords + bySounds) };
    })
    .sort((a, b) => a.distance - b.distance);
}

/** How unlikely is it that the sound begins with the address phrase, by words and sounds together? 0 where none is needed; natural log. */
export function distanceOfBeginning(heard: HeardSteps, { wordIds, phoneIds }: Targets): number {
  const bySounds = heard.phones.logBeginning(phoneIds);
  const byWords = wordIds ? heard.words.logBeginning(wordIds) : bySounds;
  return -(byWords + bySounds);
}
