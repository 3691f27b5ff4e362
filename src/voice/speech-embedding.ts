/**
 * Speech to a row of vectors: the pre-trained mel filter and speech embedding (its
 * public description: arXiv 2002.01322), run by onnxruntime-web on one thread. Same
 * code in Node and in a worker; where the files come from is told from outside.
 * Docs/third-party.md has source, licence and checksums of the models.
 */
import { env, InferenceSession, Tensor } from 'onnxruntime-web/wasm';

/** Reads one file of the embedding by name; rejects where it is missing. */
export type ReadModelFile = (name: string) => Promise<Uint8Array>;

/** Numbers in one vector. */
export const VECTOR_SIZE = 96;

/** Mel frames (10 ms each) that one vector looks at: 760 ms; set by the model. */
const WINDOW_FRAMES = 76;
/** Mel bands; set by the model. */
const BANDS = 32;
/** Mel frames from one vector to the next: 80 ms, the step that the model was trained with. */
const STEP_FRAMES = 8;
/** The mel filter takes samples in the range of 16-bit integers. */
const INT16 = 32_768;
/** How much quiet is put before and after, so that soft beginnings and ends have vectors of their own? */
const PAD_SAMPLES = 4_800;
/** How loud is that quiet? Digital silence is nothing that the model ever heard. */
const PAD_LEVEL = 2e-4;
/** How much is kept before and after the loud part, in frames of 10 ms? Soft onsets, final consonants. */
const LEAD_FRAMES = 12;
const TAIL_FRAMES = 12;
const FRAME_SAMPLES = 160;
/** How loud is the loudest tenth of every utterance made? The filter's output depends on level. */
const TARGET_RMS = 0.08;

export interface SpeechVectors {
  /** Vectors one after another, each of length 1. */
  readonly data: Float32Array;
  readonly count: number;
}

export class SpeechEmbedding {
  #queue: Promise<unknown> = Promise.resolve();

  private constructor(
    private readonly mel: InferenceSession,
    private readonly embedding: InferenceSession,
  ) {}

  static async create(read: ReadModelFile): Promise<SpeechEmbedding> {
    env.wasm.numThreads = 1;
    env.wasm.proxy = false;
    env.wasm.wasmBinary ??= await read('ort-wasm-simd-threaded.wasm');
    const options = { executionProviders: ['wasm'], intraOpNumThreads: 1 };
    return new SpeechEmbedding(
      await InferenceSession.create(await read('melspectrogram.onnx'), options),
      await InferenceSession.create(await read('embedding_model.onnx'), options),
    );
  }

  /** One vector for each 80 ms. Audio at 16 kHz, -1 to 1; its level does not matter. */
  embed(pcm: Float32Array): Promise<SpeechVectors> {
    // One at a time: examples from voice cards are made while people speak.
    const done = this.#queue.then(() => this.#embed(pcm));
    this.#queue = done.catch(() => undefined);
    return done;
  }

  async #embed(pcm: Float32Array): Promise<SpeechVectors> {
    const sound = prepareSound(pcm);
    const melName = this.mel.inputNames[0] ?? '';
    const mel = await this.mel.run({ [melName]: new Tensor('float32', sound, [1, sound.length]) });
    const bands = (mel[this.mel.outputNames[0] ?? '']?.data ?? []) as Float32Array;
    const windows = cutWindows(bands);
    if (windows.count === 0) return { data: new Float32Array(0), count: 0 };
    const shape = [windows.count, WINDOW_FRAMES, BANDS, 1];
    const name = this.embedding.inputNames[0] ?? '';
    const out = await this.embedding.run({ [name]: new Tensor('float32', windows.data, shape) });
    const data = out[this.embedding.outputNames[0] ?? '']?.data as Float32Array;
    return { data: toUnitVectors(data), count: windows.count };
  }

  async close(): Promise<void> {
    await this.mel.release();
    await this.embedding.release();
  }
}

/** Cuts to the speech, evens the level, puts quiet around, and turns to the model's range. */
function prepareSound(whole: Float32Array): Float32Array {
  const powers = framePowers(whole);
  const gain = TARGET_RMS / Math.max(loudRms(powers), 1e-5);
  const pcm = trimToSpeech(whole, LEAD_FRAMES, TAIL_FRAMES);
  const sound = new Float32Array(pcm.length + 2 * PAD_SAMPLES);
  let seed = 1;
  for (let index = 0; index < sound.length; index += 1) {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
    const quiet = (seed / 2_147_483_648 - 1) * PAD_LEVEL;
    const at = index - PAD_SAMPLES;
    const said = at >= 0 && at < pcm.length ? (pcm[at] ?? 0) * gain : 0;
    sound[index] = Math.max(-1, Math.min(1, said + quiet)) * INT16;
  }
  return sound;
}

function framePowers(pcm: Float32Array): number[] {
  return Array.from({ length: Math.floor(pcm.length / FRAME_SAMPLES) }, (_, frame) => {
    const part = pcm.subarray(frame * FRAME_SAMPLES, (frame + 1) * FRAME_SAMPLES);
    return part.reduce((sum, x) => sum + x * x, 1e-12) / FRAME_SAMPLES;
  });
}

/** Root mean square of the tenth of the 10 ms frames that is loudest. */
function loudRms(powers: readonly number[]): number {
  const loud = powers.toSorted((a, b) => b - a).slice(0, Math.max(1, powers.length / 10));
  return Math.sqrt(loud.reduce((sum, power) => sum + power, 0) / loud.length);
}

/** From some frames of 10 ms before the first that is louder than half-way (in dB) to some after the last. */
export function trimToSpeech(pcm: Float32Array, lead: number, tail: number): Float32Array {
  const levels = framePowers(pcm).map((power) => 10 * Math.log10(power));
  const sorted = levels.toSorted((a, b) => a - b);
  const quiet = sorted[Math.floor(sorted.length * 0.1)] ?? 0;
  const loud = sorted[Math.floor(sorted.length * 0.95)] ?? 0;
  const isLoud = (level: number): boolean => level > Math.max((quiet + loud) / 2, loud - 20);
  const first = levels.findIndex(isLoud);
  const last = levels.findLastIndex(isLoud);
  if (first < 0) return pcm;
  const from = Math.max(0, first - lead) * FRAME_SAMPLES;
  return pcm.subarray(from, (last + tail) * FRAME_SAMPLES);
}

function cutWindows(bands: Float32Array): SpeechVectors {
  const frames = bands.length / BANDS;
  const count = Math.max(0, Math.floor((frames - WINDOW_FRAMES) / STEP_FRAMES) + 1);
  const data = new Float32Array(count * WINDOW_FRAMES * BANDS);
  for (let index = 0; index < count; index += 1) {
    const from = index * STEP_FRAMES * BANDS;
    data.set(bands.subarray(from, from + WINDOW_FRAMES * BANDS), index * WINDOW_FRAMES * BANDS);
  }
  // The embedding was trained on the filter's output over ten, plus two.
  return { data: data.map((value) => value / 10 + 2), count };
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
