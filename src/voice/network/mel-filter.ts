/** Sound to mel frames, by a pre-trained filter (docs/third-party.md); cepstra are made of them. */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { openModel, runInTurn } from '../models/model-runs';
import type { ReadModelFile } from '../models/model-runs';

/** Mel bands in a frame of 10 ms; set by the model. */
export const BANDS = 32;
/** The mel filter takes samples in the range of 16-bit integers. */
const INT16 = 32_768;
export class MelFilter {
  private constructor(private readonly model: InferenceSession) {}

  static async create(read: ReadModelFile): Promise<MelFilter> {
    return new MelFilter(await openModel(read, 'melspectrogram.onnx'));
  }

  /** Frames of BANDS numbers, 10 ms each, of a prepared sound. */
  async bands(sound: Float32Array): Promise<Float32Array> {
    const name = this.model.inputNames[0] ?? '';
    const loud = sound.map((sample) => sample * INT16);
    const input = new Tensor('float32', loud, [1, sound.length]);
    const out = await runInTurn(() => this.model.run({ [name]: input }));
    const db = (out[this.model.outputNames[0] ?? '']?.data ?? []) as Float32Array;
    // As the models that it was made for take it: a tenth of its level in dB, and two more.
    return db.map((value) => value / 10 + 2);
  }

  async close(): Promise<void> {
    await this.model.release();
  }
}
