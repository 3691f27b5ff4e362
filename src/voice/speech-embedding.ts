/**
 * Speech to a row of vectors: the pre-trained mel filter and speech embedding (its
 * public description: arXiv 2002.01322), run by onnxruntime-web on one thread. Same
 * code in Node and in a worker; where the files come from is told from outside.
 * The embedding's convolutions add no padding in time, so it is run once over the
 * whole utterance instead of once for each window of 760 ms: the same numbers for a
 * fraction of the work. docs/third-party.md has source, licence and checksums.
 */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { BANDS, MelFilter, openModel, runInTurn } from './mel-filter';
import type { ReadModelFile } from './mel-filter';

/** Numbers in one vector. */
export const VECTOR_SIZE = 96;

/** Mel frames (10 ms each) that one vector looks at: 760 ms; set by the model. */
const WINDOW_FRAMES = 76;
/** How much quiet is put before and after, so that soft beginnings and ends have vectors of their own? */
const PAD_SAMPLES = 4_800;

export interface SpeechVectors {
  /** Vectors one after another, each of length 1. */
  readonly data: Float32Array;
  readonly count: number;
}

export class SpeechEmbedding {
  private constructor(
    /** Shared with the phrase network. */
    readonly filter: MelFilter,
    private readonly model: InferenceSession,
  ) {}

  static async create(read: ReadModelFile): Promise<SpeechEmbedding> {
    const filter = await MelFilter.create(read);
    return new SpeechEmbedding(filter, await openModel(read, 'speech_embedding.onnx'));
  }

  /** One vector for each 80 ms. Audio at 16 kHz, -1 to 1; its level does not matter. */
  async embed(pcm: Float32Array): Promise<SpeechVectors> {
    const bands = await this.filter.bands(pcm, PAD_SAMPLES);
    const frames = bands.length / BANDS;
    if (frames < WINDOW_FRAMES) return { data: new Float32Array(0), count: 0 };
    const input = new Tensor('float32', bands, [1, frames, BANDS, 1]);
    const name = this.model.inputNames[0] ?? '';
    const out = await runInTurn(() => this.model.run({ [name]: input }));
    const data = out[this.model.outputNames[0] ?? '']?.data as Float32Array;
    return { data: toUnitVectors(data), count: data.length / VECTOR_SIZE };
  }

  async close(): Promise<void> {
    await this.filter.close();
    await this.model.release();
  }
}

function toUnitVectors(data: Float32Array): Float32Array {
  const out = new Float32Array(data.length);
  for (let from = 0; from < data.length; from += VECTOR_SIZE) {
    const vector = data.subarray(from, from + VECTOR_SIZE);
    const length = Math.sqrt(vector.reduce((sum, x) => sum + x * x, 0)) || 1;
    vector.forEach((x, index) => (out[from + index] = x / length));
  }
  return out;
}
