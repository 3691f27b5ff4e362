/**
 * The network that was trained for this product (src/voice/model-recipe): mel frames to
 * log-probabilities of words and of phones, one row each 20 ms.
 */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { CEPSTRAL_SIZE, toCepstra } from './cepstra';
import { CtcScorer } from './ctc';
import { BANDS, FRAME_SAMPLES, MelFilter, openModel, runInTurn } from './mel-filter';
import type { ReadModelFile } from './mel-filter';
import type { SpeechTraits } from './speech-traits';

/** How much quiet is put before and after? As in training. */
const PAD_SAMPLES = 7_200;
/** Fewer mel frames than this give no step at all. */
const LEAST_FRAMES = 64;
/** Mel frames from one step to the next, and from the first frame to the middle of the first step; set by the model. */
const FRAMES_PER_STEP = 2;
const FIRST_MIDDLE = 32;
/** How many frames of the quiet around are kept in the traits? Soft beginnings and ends. */
const KEPT_QUIET = 3;
/** Steps that make one row of traits: 40 ms are told apart as well as 20, for a quarter of the work. */
const STEPS_PER_ROW = 2;

/** What its classes mean: names by number, the blank first. */
interface Names {
  readonly words: readonly string[];
  readonly phones: readonly string[];
}

/** What was heard, ready to be asked for any phrase. */
export interface HeardSteps {
  readonly steps: number;
  readonly words: CtcScorer;
  readonly phones: CtcScorer;
  readonly traits: SpeechTraits;
}

export class PhraseNetwork {
  readonly #wordIds: ReadonlyMap<string, number>;
  readonly #phoneIds: ReadonlyMap<string, number>;

  private constructor(
    private readonly filter: MelFilter,
    private readonly model: InferenceSession,
    names: Names,
  ) {
    this.#wordIds = numbered(names.words);
    this.#phoneIds = numbered(names.phones);
  }

  static async create(read: ReadModelFile): Promise<PhraseNetwork> {
    const names = JSON.parse(new TextDecoder().decode(await read('phrase_network.json'))) as Names;
    const filter = await MelFilter.create(read);
    return new PhraseNetwork(filter, await openModel(read, 'phrase_network.onnx'), names);
  }

  /** Numbers of these words; null where one of them was not trained as a word. */
  wordIds(words: readonly string[]): readonly number[] | null {
    return lookUp(words, this.#wordIds);
  }

  /** Numbers of these phones (CMU dictionary); null where one is unknown. */
  phoneIds(phones: readonly string[]): readonly number[] | null {
    return lookUp(phones, this.#phoneIds);
  }

  /** Null where the utterance is too short for anything. */
  async hear(pcm: Float32Array): Promise<HeardSteps | null> {
    const bands = await this.filter.bands(pcm, PAD_SAMPLES);
    const frames = bands.length / BANDS;
    if (frames < LEAST_FRAMES) return null;
    const mel = new Tensor('float32', bands, [frames, BANDS]);
    const out = await runInTurn(() => this.model.run({ mel }));
    const scorerOf = (name: string): [CtcScorer, number] => {
      const [, steps = 0, classes = 0] = out[name]?.dims ?? [];
      const data = out[name]?.data as Float32Array;
      return [new CtcScorer({ data, steps, classes }), steps];
    };
    const [words, steps] = scorerOf('words');
    const [phones] = scorerOf('phones');
    const features = out['features']?.data as Float32Array;
    return { words, phones, steps, traits: toTraits(features, steps, bands) };
  }

  async close(): Promise<void> {
    await this.filter.close();
    await this.model.release();
  }
}

/** Rows of 40 ms within the sound: the quiet that was put around it is no trait of speech. */
function toTraits(features: Float32Array, steps: number, bands: Float32Array): SpeechTraits {
  const frames = bands.length / BANDS;
  const quiet = PAD_SAMPLES / FRAME_SAMPLES - KEPT_QUIET;
  const first = Math.max(0, Math.ceil((quiet - FIRST_MIDDLE) / FRAMES_PER_STEP));
  const end = Math.min(steps, Math.ceil((frames - quiet - FIRST_MIDDLE) / FRAMES_PER_STEP));
  const count = Math.max(0, Math.floor((end - first) / STEPS_PER_ROW));
  const cepstra = toCepstra(bands.subarray(quiet * BANDS, (frames - quiet) * BANDS));
  const frameOf = (step: number): number => step * FRAMES_PER_STEP + FIRST_MIDDLE - quiet;
  return {
    learnt: meanOfPairs(features, features.length / steps, count, (step) => first + step),
    cepstral: meanOfPairs(cepstra, CEPSTRAL_SIZE, count, (step) => frameOf(first + step)),
    count,
  };
}

function meanOfPairs(
  table: Float32Array,
  size: number,
  count: number,
  rowOf: (step: number) => number,
): Float32Array {
  const out = new Float32Array(count * size);
  for (let step = 0; step < count * STEPS_PER_ROW; step += 1) {
    const [to, from] = [Math.floor(step / STEPS_PER_ROW) * size, rowOf(step) * size];
    for (let index = 0; index < size; index += 1)
      out[to + index] = (out[to + index] ?? 0) + (table[from + index] ?? 0) / STEPS_PER_ROW;
  }
  return out;
}

function numbered(names: readonly string[]): ReadonlyMap<string, number> {
  // Number 0 is the blank; "*" stands for words that are not told apart.
  return new Map(names.map((name, index) => [name, index] as const).slice(1));
}

function lookUp(
  names: readonly string[],
  ids: ReadonlyMap<string, number>,
): readonly number[] | null {
  const found = names.map((name) => ids.get(name));
  return found.some((id) => id === undefined) ? null : (found as number[]);
}
