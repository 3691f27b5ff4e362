/** The legal phrases as the network knows them, and how well each explains what was heard. */
import { splitWords } from './grammar';
import type { HeardSteps } from './phrase-network';
import type { PhraseAtDistance } from './rankings';
import type { SoundClasses } from './sound-classes';

/** The sounds of a word, by the CMU dictionary's phones; null where nobody knows it. */
export type Pronounce = (word: string) => readonly string[] | null;

/** One phrase: logs of how much less likely than the likeliest path of all, by words and by sounds. */
export interface PhraseEvidence {
  readonly words: string;
  /** Null where a word of the phrase was not trained as a word. */
  readonly byWords: number | null;
  readonly bySounds: number;
  /** Sounds that were heard at all, as a share of the phrase's own: far fewer can't have been the phrase. */
  readonly shareOfSounds: number;
}

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

/** What speaks for each phrase. */
export function weighPhrases(
  heard: HeardSteps,
  targets: readonly Targets[],
): readonly PhraseEvidence[] {
  return targets.map(({ words, wordIds, phoneIds }) => ({
    words,
    byWords: wordIds && heard.words.logLikelihood(wordIds) - heard.words.best,
    bySounds: heard.phones.logLikelihood(phoneIds) - heard.phones.best,
    shareOfSounds: heard.phones.named / phoneIds.length,
  }));
}

/** The likeliest first. A phrase with a word that was not trained is weighed by its sounds alone, twice. */
export function rankPhrases(
  heard: HeardSteps,
  targets: readonly Targets[],
): readonly PhraseAtDistance[] {
  return weighPhrases(heard, targets)
    .map(({ words, byWords, bySounds, shareOfSounds }) => ({
      words,
      shareOfSounds,
      distance: -(byWords === null ? 2 * bySounds : byWords + bySounds),
    }))
    .sort((a, b) => a.distance - b.distance);
}
