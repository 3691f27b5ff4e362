/**
 * The hearing half of the general speech model (docs/third-party.md), trained on English of
 * very many people: sound to what it makes of it, a row of 288 numbers each 24 ms. Its
 * writing half (text-model.ts) and a head of ours (speech-head.ts) go on from there.
 */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { openModel, runInTurn } from '../models/model-runs';
import type { ReadModelFile } from '../models/model-runs';
import { prepareSound } from '../models/prepared-sound';

const FILE = 'text-model/encoder_model.onnx';
/** Only longer sound is taken: a tenth of a second, as its makers' own code demands. */
const TOO_SHORT_SAMPLES = 1_600;
/**
 * How much quiet is put before and after, in samples? Without any, 96 of 100 human digits were
 * likeliest of ten to the text listener clean and 92 of 98 at 10 dB, with 0.3 s 98 and 95, with
 * 0.8 s 96 and 93.
 */
const PAD_SAMPLES = 4_800;

/** What it makes of a sound. */
export interface HeardSound {
  readonly states: Tensor;
}

export class SpeechEncoder {
  private constructor(private readonly model: InferenceSession) {}

  /** Rejects where the file is missing or damaged. */
  static async create(read: ReadModelFile): Promise<SpeechEncoder> {
    return new SpeechEncoder(await openModel(read, FILE));
  }

  /** Sound at 16 kHz, -1 to 1, at most 64 seconds as its makers have it. Null where it is too short for anything. */
  async hear(pcm: Float32Array): Promise<HeardSound | null> {
    if (pcm.length <= TOO_SHORT_SAMPLES) return null;
    const sound = prepareSound(pcm, PAD_SAMPLES);
    const input = new Tensor('float32', sound, [1, sound.length]);
    const { last_hidden_state: states } = await runInTurn(() =>
      this.model.run({ input_values: input }),
    );
    if (!states) throw new Error('The model gave no states');
    return { states };
  }

  async close(): Promise<void> {
    await this.model.release();
  }
}
