/**
 * The product's two listeners asked once, and what would have been heard had the grammar,
 * the examples or both together decided: each decision goes through voice activity and
 * the rules of settling by itself, on the same opinions. What is inside a listener is
 * not this file's business.
 */
import { loadBuiltInTemplates, loadListener } from '../../../src/cli/load-listeners';
import type { ListenerName } from '../../../src/cli/load-listeners';
import { readSpeechFile } from '../../../src/cli/sound-files';
import type { HeardPhrase, Vocabulary } from '../../../src/domain';
import {
  decideByEmbedding,
  decideByGrammar,
  Hearing,
  SpeechEmbedding,
  TwoListeners,
} from '../../../src/voice';
import type { Embedder, Listener, Opinions, PhraseTemplate } from '../../../src/voice';
import { rememberVectors, soundKey, stampOf } from './memory';

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

/** Loads the embedding, with its memory where `CUEWALL_BENCH_CACHE` names one. */
export async function loadEmbedder(): Promise<Embedder> {
  const model = stampOf(await readSpeechFile('speech_embedding.onnx'));
  return rememberVectors(await SpeechEmbedding.create(readSpeechFile), model);
}

export class Panel {
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };
  readonly #thoughts = new Map<string, Thought>();

  private constructor(private readonly both: TwoListeners) {}

  static async load(
    embedder: Embedder,
    examples: readonly PhraseTemplate[] = loadBuiltInTemplates(),
  ): Promise<Panel> {
    const kept: Embedder = { embed: (pcm) => embedder.embed(pcm), close: async () => undefined };
    const listener = await loadListener('both', examples, kept);
    if (!(listener instanceof TwoListeners)) throw new Error('Expected both listeners');
    return new Panel(listener);
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<void> {
    this.#vocabulary = vocabulary;
    this.#thoughts.clear();
    const faults = await this.both.setVocabulary(vocabulary);
    if (faults.length > 0) throw new Error(`Can't be pronounced: ${JSON.stringify(faults)}`);
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

  /** Frees the listeners; the embedding stays, where another panel uses it too. */
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
            ? decideByGrammar(opinions.grammar)
            : decideByEmbedding(opinions.ranked, this.#vocabulary);
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
