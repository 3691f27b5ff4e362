/**
 * The listener that knows examples: an utterance is compared, whole, with recorded or
 * synthesised examples of the phrases that are legal now. It says which are nearest
 * and how far; what that is worth is decided in decide-both.ts.
 */
import type { Fault, HeardPhrase, Vocabulary } from '../domain';
import { decideByEmbedding } from './decide-both';
import type { PhraseAtDistance } from './decide-both';
import { splitWords } from './grammar';
import type { Listener } from './listener';
import { SAMPLE_RATE_HZ } from './listener';
import { phraseDistance } from './phrase-distance';
import type { PhraseTemplate } from './phrase-templates';
import type { SpeechEmbedding } from './speech-embedding';

/** How many of a phrase's nearest examples are averaged? One alone may be an accident. */
const NEAREST_EXAMPLES = 2;

/** What makes vectors of sound; measurements put a memory between. */
export type Embedder = Pick<SpeechEmbedding, 'embed' | 'close'>;

export class EmbeddingListener implements Listener {
  readonly name = 'embedding';
  readonly #embedding: Embedder;
  readonly #nowMs: () => number;
  readonly #templatesOf = new Map<string, PhraseTemplate[]>();
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };
  #legal: readonly (readonly [string, readonly PhraseTemplate[]])[] = [];

  /** Templates carry the address phrase; those of phrases that never become legal cost only memory. */
  constructor(embedding: Embedder, templates: readonly PhraseTemplate[], nowMs: () => number) {
    this.#embedding = embedding;
    this.#nowMs = nowMs;
    for (const template of templates) {
      const key = splitWords(template.text).join(' ');
      this.#templatesOf.set(key, [...(this.#templatesOf.get(key) ?? []), template]);
    }
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    this.#vocabulary = vocabulary;
    const address = splitWords(vocabulary.addressPhrase).join(' ');
    this.#legal = vocabulary.phrases.flatMap(({ words }) => {
      const said = `${address} ${splitWords(words).join(' ')}`.trim();
      const templates = this.#templatesOf.get(said);
      return templates ? [[words, templates] as const] : [];
    });
    return [];
  }

  /** Whether it has an example of this phrase; without one it has no opinion about it. */
  knows(words: string): boolean {
    return this.#legal.some(([known]) => known === words);
  }

  /** Legal phrases with examples, the nearest first. */
  async rank(utterance: Float32Array): Promise<readonly PhraseAtDistance[]> {
    if (this.#legal.length === 0) return [];
    const heard = await this.#embedding.embed(utterance);
    return this.#legal
      .map(([words, templates]) => {
        const distances = templates.map(({ vectors }) => phraseDistance(heard, vectors));
        const nearest = distances.sort((a, b) => a - b).slice(0, NEAREST_EXAMPLES);
        return { words, distance: nearest.reduce((sum, x) => sum + x, 0) / nearest.length };
      })
      .sort((a, b) => a.distance - b.distance);
  }

  async recognise(utterance: Float32Array): Promise<HeardPhrase> {
    const startMs = this.#nowMs();
    const decided = decideByEmbedding(await this.rank(utterance), this.#vocabulary);
    return {
      ...decided,
      listener: this.name,
      speechMs: (utterance.length * 1000) / SAMPLE_RATE_HZ,
      decisionMs: this.#nowMs() - startMs,
    };
  }

  async close(): Promise<void> {
    await this.#embedding.close();
  }
}
