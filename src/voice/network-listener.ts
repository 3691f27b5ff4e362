/** Ranks what may be said now by the phrase network. */
import type { Vocabulary } from '../domain';
import type { PhraseAtDistance } from './decide-both';
import { MelFilter } from './mel-filter';
import type { ReadModelFile } from './mel-filter';
import { toTargets, weighPhrases } from './network-phrases';
import type { Pronounce } from './network-phrases';
import { PhraseNetwork } from './phrase-network';

export class NetworkListener {
  #targets: ReturnType<typeof toTargets> = [];

  private constructor(
    private readonly network: PhraseNetwork,
    private readonly filter: MelFilter,
  ) {}

  static async create(read: ReadModelFile): Promise<NetworkListener> {
    const filter = await MelFilter.create(read);
    return new NetworkListener(await PhraseNetwork.create(read, filter), filter);
  }

  setVocabulary(vocabulary: Vocabulary, pronounce: Pronounce): void {
    this.#targets = toTargets(vocabulary, this.network, pronounce);
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
    await this.filter.close();
  }
}
