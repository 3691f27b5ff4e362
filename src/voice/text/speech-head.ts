/**
 * A small network that was trained for this product (src/voice/model-recipe), on what the
 * general speech model makes of a sound (speech-encoder.ts): log-probabilities of the same
 * words and phones as the phrase network's, one row each 24 ms. It hears people better, and
 * noise worse.
 */
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { CtcScorer } from '../network/ctc';
import { openModel, runInTurn } from '../models/model-runs';
import type { ReadModelFile } from '../models/model-runs';
import { toSteps } from '../models/model-steps';
import type { HeardSteps } from '../network/phrase-network';
import type { HeardSound } from './speech-encoder';

export class SpeechHead {
  private constructor(private readonly model: InferenceSession) {}

  /** Rejects where the file is missing or damaged. */
  static async create(read: ReadModelFile): Promise<SpeechHead> {
    return new SpeechHead(await openModel(read, 'speech_head.onnx'));
  }

  async hear({ states }: HeardSound): Promise<HeardSteps> {
    const out = await runInTurn(() => this.model.run({ hidden: states }, ['words', 'phones']));
    return {
      words: new CtcScorer(toSteps(out['words'])),
      phones: new CtcScorer(toSteps(out['phones'])),
    };
  }

  async close(): Promise<void> {
    await this.model.release();
  }
}
