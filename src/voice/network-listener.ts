/** Ranks what may be said now by the phrase network. */
import type { Vocabulary } from '../domain';
import type { PhraseAtDistance } from './decide-both';
import type { MelFilter, ReadModelFile } from './mel-filter';
import { toTargets, weighPhrases } from './network-phrases';
import type { Pronounce } from './network-phrases';
import { PhraseNetwork } from './phrase-network';

export class NetworkListener {
  #targets: ReturnType<typeof toTargets> = [];

  /** Sounds of words that were looked up before: the vocabulary changes with nearly every entry. */
  readonly #phonesOf = new Map<string, readonly string[] | null>();

  private constructor(private readonly network: PhraseNetwork) {}

  /** The filter is shared; closing it is its owner's. */
  static async create(read: ReadModelFile, filter: MelFilter): Promise<NetworkListener> {
    return new NetworkListener(await PhraseNetwork.create(read, filter));
  }

  setVocabulary(vocabulary: Vocabulary, pronounce: Pronounce): void {
    this.#targets = toTargets(vocabulary, this.network, (word) => {
      const known = this.#phonesOf.get(word);
      if (known !== undefined) return known;
      const phones = pronounce(word);
      this.#phonesOf.set(word, phones);
      return phones;
    });
  }

  /** Legal phrases that can be pronounced, the likeliest first. */
  async rank(utterance: Float32Array): Promise<readonly PhraseAtDistance[]> {
    if (this.#targets.length === 0) return [];
    const heard = await this.network.hear(utterance);
    if (!heard) return [];
    return weighPhrases(heard, this.#targets)
      .map(({ words, byWords, bySounds }) => ({
        words,
        // A phrase with a word that was not trained is weighed by its sounds alone, twice.
        distance: -(byWords === null ? 2 * bySounds : byWords + bySounds),
      }))
      .sort((a, b) => a.distance - b.distance);
  }

  async close(): Promise<void> {
    await this.network.close();
  }
}
