/**
 * The listener that knows examples: an utterance is compared, whole, with recorded or
 * synthesised examples of the phrases that are legal now. It says which are nearest
 * and how far; what that is worth is decided in decide-both.ts.
 */
import type { Fault, HeardPhrase, Vocabulary } from '../domain';
import { CardExamples } from './card-examples';
import type { CardVoice } from './card-voice';
import { decideByEmbedding } from './decide-both';
import type { PhraseAtDistance } from './decide-both';
import { splitWords } from './grammar';
import type { Listener } from './listener';
import { SAMPLE_RATE_HZ } from './listener';
import { phraseDistance } from './phrase-distance';
import type { PhraseTemplate } from './phrase-templates';
import type { SpeechEmbedding, SpeechVectors } from './speech-embedding';

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
  #cards: readonly CardExamples[] = [];
  /** Resolves when the examples from cards are made for the latest vocabulary. */
  prepared: Promise<void> = Promise.resolve();
  /** Each legal phrase with its examples, those of each card apart from the others. */
  #legal: readonly (readonly [string, readonly (readonly PhraseTemplate[])[]])[] = [];

  /** Templates carry the address phrase; those of phrases that never become legal cost only memory. */
  constructor(embedding: Embedder, templates: readonly PhraseTemplate[], nowMs: () => number) {
    this.#embedding = embedding;
    this.#nowMs = nowMs;
    for (const template of templates) {
      const key = splitWords(template.text).join(' ');
      this.#templatesOf.set(key, [...(this.#templatesOf.get(key) ?? []), template]);
    }
  }

  /** Learns from these cards instead of the earlier ones. */
  async setCards(cards: readonly CardVoice[]): Promise<void> {
    this.#cards = cards.map((card) => new CardExamples(this.#embedding, card));
    await this.setVocabulary(this.#vocabulary);
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    this.#vocabulary = vocabulary;
    this.#collect();
    // Examples from cards take a while to make; until all are there the others serve.
    if (this.#cards.length > 0) this.prepared = this.#prepare(vocabulary);
    return [];
  }

  async #prepare(vocabulary: Vocabulary): Promise<void> {
    for (const card of this.#cards)
      for (const { words } of vocabulary.phrases) {
        // Of a moment that has passed nobody asks any more.
        if (this.#vocabulary !== vocabulary) return;
        await card.prepare(toSaid(vocabulary, words));
      }
    this.#collect();
  }

  #collect(): void {
    this.#legal = this.#vocabulary.phrases.flatMap(({ words }) => {
      const said = toSaid(this.#vocabulary, words);
      const voices = [
        this.#templatesOf.get(said) ?? [],
        ...this.#cards.map((card) => card.templatesOf(said)),
      ].filter(({ length }) => length > 0);
      return voices.length > 0 ? [[words, voices] as const] : [];
    });
  }

  /** Whether it has an example of this phrase; without one it has no opinion about it. */
  knows(words: string): boolean {
    return this.#legal.some(([known]) => known === words);
  }

  /** Legal phrases with examples, the nearest first. */
  async rank(utterance: Float32Array): Promise<readonly PhraseAtDistance[]> {
    if (this.#legal.length === 0) return [];
    const heard = await this.#embedding.embed(utterance);
    return (
      this.#legal
        // A card's own voice is not averaged with strangers: the nearest voice counts.
        .map(([words, voices]) => ({
          words,
          distance: Math.min(...voices.map((templates) => meanOfNearest(heard, templates))),
        }))
        .sort((a, b) => a.distance - b.distance)
    );
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

function meanOfNearest(heard: SpeechVectors, templates: readonly PhraseTemplate[]): number {
  const nearest = templates
    .map(({ vectors }) => phraseDistance(heard, vectors))
    .sort((a, b) => a - b)
    .slice(0, NEAREST_EXAMPLES);
  return nearest.reduce((sum, x) => sum + x, 0) / nearest.length;
}

/** A phrase as it is said: the address phrase first. */
function toSaid({ addressPhrase }: Vocabulary, words: string): string {
  return splitWords(`${addressPhrase} ${words}`).join(' ');
}
