/**
 * The third listener, on a general speech model that was trained on very many people: asked
 * which of a few phrases was said, it answers twice, by the model's own way of writing
 * (text-model.ts) and by a small network of ours on what the model hears (speech-head.ts). It
 * hears strangers far better than the others, and robots and drills worse, so it decides
 * nothing by itself.
 */
import { splitWords } from './grammar';
import type { ReadModelFile } from './model-runs';
import { rankPhrases } from './network-phrases';
import type { Targets } from './network-phrases';
import { NO_TEXT } from './rankings';
import type { PhraseAtDistance, TextOpinion } from './rankings';
import { SpeechEncoder } from './speech-encoder';
import { SpeechHead } from './speech-head';
import { TextModel } from './text-model';

export class TextListener {
  private constructor(
    private readonly encoder: SpeechEncoder,
    private readonly model: TextModel,
    private readonly head: SpeechHead,
  ) {}

  /** Rejects where a file is missing or damaged. */
  static async create(read: ReadModelFile): Promise<TextListener> {
    const encoder = await SpeechEncoder.create(read);
    const model = await TextModel.create(read);
    return new TextListener(encoder, model, await SpeechHead.create(read));
  }

  /** `targets`: the phrases as networks know them; those that can't be pronounced are missing. */
  async consider(
    utterance: Float32Array,
    addressPhrase: string,
    targets: readonly Targets[],
  ): Promise<TextOpinion> {
    if (targets.length < 2) return NO_TEXT;
    const heard = await this.encoder.hear(utterance);
    if (!heard) return NO_TEXT;
    const phrases = targets.map(({ words }) => words);
    const texts = phrases.map((words) => splitWords(`${addressPhrase} ${words}`).join(' '));
    const logs = await this.model.weigh(await this.model.begin(heard), texts);
    const byText = phrases.map((words, index) => ({
      words,
      distance: -(logs[index] ?? -Infinity),
    }));
    const byHead = rankPhrases(await this.head.hear(heard), targets);
    return { text: fromNearest(byText), head: fromNearest(byHead) };
  }

  async close(): Promise<void> {
    await this.encoder.close();
    await this.model.close();
    await this.head.close();
  }
}

/** Those that can be it. Throws where the model gave no numbers: nothing can be made of that. */
function fromNearest(phrases: readonly PhraseAtDistance[]): readonly PhraseAtDistance[] {
  if (phrases.some(({ distance }) => Number.isNaN(distance)))
    throw new Error('The speech model gave no numbers');
  const possible = phrases.filter(({ distance }) => distance < Infinity);
  const nearest = Math.min(...possible.map(({ distance }) => distance));
  return possible
    .map(({ words, distance }) => ({ words, distance: distance - nearest }))
    .sort((a, b) => a.distance - b.distance);
}
