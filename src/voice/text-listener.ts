/**
 * The third listener: a general speech model that was trained on very many people
 * (text-model.ts) is asked which of a few legal phrases was said. It hears strangers far
 * better than the others, and robots and drills worse, so it decides nothing by itself.
 */
import { splitWords } from './grammar';
import type { PhraseAtDistance } from './rankings';
import type { TextModel } from './text-model';

export class TextListener {
  constructor(private readonly model: TextModel) {}

  /**
   * These phrases, the likeliest first, distance being how much less likely than the first
   * (natural log). Empty where there is nothing to tell apart, or nothing was said.
   */
  async consider(
    utterance: Float32Array,
    addressPhrase: string,
    phrases: readonly string[],
  ): Promise<readonly PhraseAtDistance[]> {
    if (phrases.length < 2) return [];
    const heard = await this.model.hear(utterance);
    if (!heard) return [];
    const texts = phrases.map((words) => splitWords(`${addressPhrase} ${words}`).join(' '));
    const likelihoods = await this.model.weigh(heard, texts);
    const best = Math.max(...likelihoods);
    return phrases
      .map((words, index) => ({ words, distance: best - (likelihoods[index] ?? -Infinity) }))
      .sort((a, b) => a.distance - b.distance);
  }

  async close(): Promise<void> {
    await this.model.close();
  }
}
