/**
 * Sound to mel frames: cut to the speech, evened in level, quiet around it, then the
 * pre-trained filter (docs/third-party.md) that the phrase network looks at.
 */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { openModel, runInTurn } from './model-runs';
import type { ReadModelFile } from './model-runs';

/** Mel bands in a frame of 10 ms; set by the model. */
export const BANDS = 32;
/** The mel filter takes samples in the range of 16-bit integers. */
const INT16 = 32_768;
/** How loud is the quiet around an utterance? Digital silence is nothing that the model ever heard. */
const PAD_LEVEL = 2e-4;
/** How much is kept before and after the loud part, in frames of 10 ms? Soft onsets, final consonants. */
const LEAD_FRAMES = 12;
const TAIL_FRAMES = 12;
/** Samples from one frame to the next. */
export const FRAME_SAMPLES = 160;
/** How loud is the loudest tenth of every utterance made? The filter's output depends on level. */
const TARGET_RMS = 0.08;

export class MelFilter {
  private constructor(private readonly model: InferenceSession) {}

  static async create(read: ReadModelFile): Promise<MelFilter> {
    return new MelFilter(await openModel(read, 'melspectrogram.onnx'));
  }

  /** Frames of BANDS numbers, 10 ms each. Audio at 16 kHz, -1 to 1; its level does not matter. */
  async bands(pcm: Float32Array, padSamples: number): Promise<Float32Array> {
    const sound = prepareSound(pcm, padSamples);
    const name = this.model.inputNames[0] ?? '';
    const input = new Tensor('float32', sound, [1, sound.length]);
    const out = await runInTurn(() => this.model.run({ [name]: input }));
    const db = (out[this.model.outputNames[0] ?? '']?.data ?? []) as Float32Array;
    // What comes next was trained on the filter's output over ten, plus two.
    return db.map((value) => value / 10 + 2);
  }

  async close(): Promise<void> {
    await this.model.release();
  }
}

/** Cuts to the speech, evens the level, puts quiet around, and turns to the model's range. */
function prepareSound(whole: Float32Array, padSamples: number): Float32Array {
  const gain = TARGET_RMS / Math.max(loudRms(framePowers(whole)), 1e-5);
  const pcm = trimToSpeech(whole, LEAD_FRAMES, TAIL_FRAMES);
  const sound = new Float32Array(pcm.length + 2 * padSamples);
  let seed = 1;
  for (let index = 0; index < sound.length; index += 1) {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
    const quiet = (seed / 2_147_483_648 - 1) * PAD_LEVEL;
    const at = index - padSamples;
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
