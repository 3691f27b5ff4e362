/**
 * The third listener, on a general speech model that was trained on very many people: asked
 * which of a few phrases was said, it answers twice, by the model's own way of writing
 * (text-model.ts) and by a small network of ours on what the model hears (speech-head.ts). It
 * hears strangers far better than the others, and robots and drills worse, so it decides
 * nothing by itself.
 */
import { splitWords } from '../grammar/grammar';
import type { ReadModelFile } from '../models/model-runs';
import { rankPhrases } from '../network/network-phrases';
import type { Targets } from '../network/network-phrases';
import { NO_TEXT } from '../decision/rankings';
import type { HeardSteps } from '../network/phrase-network';
import type { PhraseAtDistance, TextOpinion } from '../decision/rankings';
import { SpeechEncoder } from './speech-encoder';
import { SpeechHead } from './speech-head';
import { TextModel } from './text-model';
import type { HeardText } from './text-model';
import { askedOfWriting } from '../decision/text-opinion';
import type { AskedPhrase } from '../decision/text-opinion';
import { WARM_UP_SOUND, WARM_UP_TEXTS } from '../models/warm-up';

/** What it is asked of an utterance. */
export interface TextQuestion {
  readonly addressPhrase: string;
  readonly asked: readonly AskedPhrase[];
  /** The same phrases as networks know them; those that can't be pronounced are missing. */
  readonly targets: readonly Targets[];
}

/** Answers for one utterance. */
export type AskText = (question: TextQuestion) => Promise<TextOpinion>;

/** A text listener, here or in a worker of its own. */
export interface HearsText {
  /** Takes an utterance before it is known what will be asked: there is much to do that does not depend on it. */
  hear(utterance: Float32Array): AskText;
  close(): Promise<void>;
}

/** An utterance as far as it can be worked on without knowing the phrases. */
export interface PreparedText {
  readonly writing: HeardText;
  readonly head: HeardSteps;
}

export class TextListener implements HearsText {
  private constructor(
    private readonly encoder: SpeechEncoder,
    private readonly model: TextModel,
    private readonly head: SpeechHead,
  ) {}

  /** Rejects where a file is missing or damaged. */
  static async create(read: ReadModelFile): Promise<TextListener> {
    const encoder = await SpeechEncoder.create(read);
    const model = await TextModel.create(read);
    const listener = new TextListener(encoder, model, await SpeechHead.create(read));
    const prepared = await listener.prepare(WARM_UP_SOUND);
    if (prepared) await model.weigh(prepared.writing, WARM_UP_TEXTS);
    return listener;
  }

  /** In one thread with the others nothing is gained by beginning early, and it may not be asked. */
  hear(utterance: Float32Array): AskText {
    return async (question) => this.weigh(await this.prepare(utterance), question);
  }

  /** Null where it is too short for anything. */
  async prepare(utterance: Float32Array): Promise<PreparedText | null> {
    const heard = await this.encoder.hear(utterance);
    if (!heard) return null;
    const head = await this.head.hear(heard);
    return { head, writing: await this.model.begin(heard) };
  }

  async weigh(prepared: PreparedText | null, question: TextQuestion): Promise<TextOpinion> {
    if (!prepared) return NO_TEXT;
    const { addressPhrase, asked, targets } = question;
    const head = fromNearest(rankPhrases(prepared.head, targets));
    const written = askedOfWriting(
      asked.filter(({ words }) => targets.some((target) => target.words === words)),
      head,
    );
    const texts = written.map((words) => splitWords(`${addressPhrase} ${words}`).join(' '));
    const logs = await this.model.weigh(prepared.writing, texts);
    const byText = written.map((words, index) => ({
      words,
      distance: -(logs[index] ?? -Infinity),
    }));
    return { text: fromNearest(byText), head };
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
