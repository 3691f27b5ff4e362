/**
 * The product's listeners asked once, and what would have been heard had the grammar,
 * the network or both together decided: each decision goes through voice activity and
 * the rules of settling by itself, on the same opinions. What is inside a listener is
 * not this file's business.
 */
import { loadBoth } from '../../../src/cli/load-listeners';
import type { ListenerName } from '../../../src/cli/load-listeners';
import type { HeardPhrase, Vocabulary } from '../../../src/domain';
import {
  decideByGrammar, decideByNetwork, decideFromAll, Hearing, learnAll,
} from '../../../src/voice'; // prettier-ignore
import type { CardVoice, Decision, Listener, Opinions, AllListeners } from '../../../src/voice';
import { soundKey } from './memory';

/** Everything that was taken or asked from one sound by each way of deciding that is measured. */
export interface Verdicts {
  readonly heardBy: ReadonlyMap<ListenerName, readonly HeardPhrase[]>;
  /** The last opinions, whatever was decided: likeliest phrases; null where nothing was cut out. */
  readonly last: Opinions | null;
}

interface Thought {
  readonly opinions: Opinions;
  readonly both: HeardPhrase;
}

/** Opinions where no card is in use: nothing was compared, nothing is known. */
const NO_CARD = { ranked: [], knows: () => false };

export class Panel {
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };
  readonly #thoughts = new Map<string, Thought>();
  #sound: Float32Array | null = null;

  private constructor(
    private readonly both: AllListeners,
    private readonly ways: readonly ListenerName[],
  ) {}

  /** `ways`: what is measured; the grammar by itself costs twice the work of both, which ask it less. */
  static async load(ways: readonly ListenerName[]): Promise<Panel> {
    return new Panel(await loadBoth(), ways);
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<void> {
    this.#vocabulary = vocabulary;
    this.#thoughts.clear();
    const faults = await this.both.setVocabulary(vocabulary);
    if (faults.length > 0) throw new Error(`Can't be pronounced: ${JSON.stringify(faults)}`);
    await learnAll(this.both);
  }

  /** Learns from this card instead of an earlier one; resolves when its examples are made. */
  async setCard(card: CardVoice): Promise<void> {
    this.#thoughts.clear();
    await this.both.setCards([card]);
    await learnAll(this.both);
  }

  /** Whether there is an example of this phrase. */
  knows(words: string): boolean {
    return this.both.network.knows(words);
  }

  /** What each way of deciding makes of a sound that has room before and after, with the card in use or as if there were none. */
  async hear(sound: Float32Array, withCard = true): Promise<Verdicts> {
    if (sound !== this.#sound) this.#thoughts.clear();
    this.#sound = sound;
    const heardBy = new Map<ListenerName, readonly HeardPhrase[]>();
    for (const name of this.ways) heardBy.set(name, await this.#hearBy(name, sound, withCard));
    return { heardBy, last: [...this.#thoughts.values()].at(-1)?.opinions ?? null };
  }

  close(): Promise<void> {
    return this.both.close();
  }

  async #hearBy(
    name: ListenerName,
    sound: Float32Array,
    withCard: boolean,
  ): Promise<readonly HeardPhrase[]> {
    const heard: HeardPhrase[] = [];
    const hearing = new Hearing(this.#listenerOf(name, withCard), {
      onPhrase: (phrase) => heard.push(phrase),
      onHearing: () => undefined,
      onLevel: () => undefined,
    });
    await hearing.setVocabulary(this.#vocabulary);
    await hearing.push(sound);
    return heard;
  }

  #listenerOf(name: ListenerName, withCard: boolean): Listener {
    return {
      name,
      setVocabulary: async () => [],
      close: async () => undefined,
      recognise: async (pcm) => {
        const { opinions, both } = await this.#think(pcm);
        if (name === 'both' && withCard) return both;
        const { speechMs, decisionMs } = both;
        const counted = withCard ? opinions : { ...opinions, ...NO_CARD };
        return { ...this.#decide(name, counted), listener: name, speechMs, decisionMs };
      },
    };
  }

  #decide(name: ListenerName, opinions: Opinions): Decision {
    if (name === 'grammar') return decideByGrammar(opinions.grammar, this.#vocabulary);
    return name === 'both'
      ? decideFromAll(opinions, this.#vocabulary)
      : decideByNetwork(opinions, this.#vocabulary);
  }

  async #think(pcm: Float32Array): Promise<Thought> {
    const key = soundKey(pcm);
    const known = this.#thoughts.get(key);
    if (known) return known;
    const both = await this.both.recognise(pcm);
    const opinions = this.both.last;
    if (!opinions) throw new Error('No opinions after a recognition');
    const thought = { opinions, both };
    this.#thoughts.set(key, thought);
    return thought;
  }
}
