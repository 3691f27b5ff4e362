/**
 * The product's two listeners asked once, and what would have been heard had the grammar,
 * the network or both together decided: each decision goes through voice activity and
 * the rules of settling by itself, on the same opinions. What is inside a listener is
 * not this file's business.
 */
import { loadBoth } from '../../../src/cli/load-listeners';
import type { ListenerName } from '../../../src/cli/load-listeners';
import type { HeardPhrase, Vocabulary } from '../../../src/domain';
import { decideByGrammar, decideByNetwork, Hearing, learnAll } from '../../../src/voice';
import type { CardVoice, Listener, Opinions, TwoListeners } from '../../../src/voice';
import { soundKey } from './memory';

/** Everything that was taken or asked from one sound, and what each listener found likeliest first. */
export interface Verdict {
  readonly heard: readonly HeardPhrase[];
}
export type Verdicts = Readonly<Record<ListenerName, Verdict>> & {
  /** The last opinions, whatever was decided: likeliest phrases; null where nothing was cut out. */
  readonly last: Opinions | null;
};

interface Thought {
  readonly opinions: Opinions;
  readonly both: HeardPhrase;
}

export class Panel {
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };
  readonly #thoughts = new Map<string, Thought>();

  private constructor(private readonly both: TwoListeners) {}

  static async load(): Promise<Panel> {
    return new Panel(await loadBoth());
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<void> {
    const unknown = await this.offerVocabulary(vocabulary);
    if (unknown.length > 0) throw new Error(`Can't be pronounced: ${unknown.join(', ')}`);
  }

  /** The same where not every word is known; gives those that nobody can pronounce. */
  async offerVocabulary(vocabulary: Vocabulary): Promise<readonly string[]> {
    this.#vocabulary = vocabulary;
    this.#thoughts.clear();
    const faults = await this.both.setVocabulary(vocabulary);
    return faults.map(({ params }) => params['word'] ?? '');
  }

  /** Learns from this card instead of an earlier one; resolves when its examples are made. */
  async setCard(card: CardVoice): Promise<void> {
    await this.both.setCards([card]);
    await learnAll(this.both);
  }

  /** What each way of deciding makes of a sound that has room before and after. */
  async hear(sound: Float32Array): Promise<Verdicts> {
    this.#thoughts.clear();
    const verdicts = {
      grammar: await this.#hearBy('grammar', sound),
      embedding: await this.#hearBy('embedding', sound),
      both: await this.#hearBy('both', sound),
    };
    return { ...verdicts, last: [...this.#thoughts.values()].at(-1)?.opinions ?? null };
  }

  close(): Promise<void> {
    return this.both.close();
  }

  async #hearBy(name: ListenerName, sound: Float32Array): Promise<Verdict> {
    const heard: HeardPhrase[] = [];
    const hearing = new Hearing(this.#listenerOf(name), {
      onPhrase: (phrase) => heard.push(phrase),
      onHearing: () => undefined,
      onLevel: () => undefined,
    });
    await hearing.setVocabulary(this.#vocabulary);
    await hearing.push(sound);
    return { heard };
  }

  #listenerOf(name: ListenerName): Listener {
    return {
      name,
      setVocabulary: async () => [],
      close: async () => undefined,
      recognise: async (pcm) => {
        const { opinions, both } = await this.#think(pcm);
        if (name === 'both') return both;
        const decided =
          name === 'grammar'
            ? decideByGrammar(opinions.grammar, this.#vocabulary)
            : decideByNetwork(opinions, this.#vocabulary);
        return { ...both, ...decided, listener: name };
      },
    };
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
