/**
 * The network that was trained for this product (src/voice/model-recipe): mel frames to
 * log-probabilities of words and of phones, one row each 20 ms.
 */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { CtcScorer } from './ctc';
import type { StepScores } from './ctc';
import { BANDS, MelFilter } from './mel-filter';
import { openModel, runInTurn } from './model-runs';
import type { ReadModelFile } from './model-runs';
import type { SpeechTraits } from './speech-traits';
import { toTraits } from './traits-of-steps';

/** How much quiet is put before and after? As in training. */
const PAD_SAMPLES = 7_200;
/** Fewer mel frames than this give no step at all. */
const LEAST_FRAMES = 64;

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
  /** What it is compared by; made when a voice card asks for it. */
  readonly traits: () => SpeechTraits;
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
    const scoresOf = (name: string): StepScores => {
      const [, steps = 0, classes = 0] = out[name]?.dims ?? [];
      return { data: out[name]?.data as Float32Array, steps, classes };
    };
    const phones = scoresOf('phones');
    return {
      words: new CtcScorer(scoresOf('words')),
      phones: new CtcScorer(phones),
      steps: phones.steps,
      traits: () => toTraits(scoresOf('features'), phones, bands),
    };
  }

  /** What a recording is compared by; null where it is too short for anything. */
  async traitsOf(pcm: Float32Array): Promise<SpeechTraits | null> {
    return (await this.hear(pcm))?.traits() ?? null;
  }

  async close(): Promise<void> {
    await this.filter.close();
    await this.model.release();
  }
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
