/**
 * The network that was trained for this product (src/voice/model-recipe): mel frames to
 * log-probabilities of words and of phones, one row each 20 ms.
 */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { CtcScorer } from './ctc';
import { toSteps } from '../models/model-steps';
import { BANDS, MelFilter } from './mel-filter';
import { openModel, runInTurn } from '../models/model-runs';
import type { ReadModelFile } from '../models/model-runs';
import { prepareSound } from '../models/prepared-sound';
import type { SpeechTraits } from './speech-traits';
import { toTraits } from './traits-of-steps';
import { WARM_UP_SOUND } from '../models/warm-up';

/** How much quiet is put before and after? As in training. */
const PAD_SAMPLES = 7_200;
/** Fewer mel frames than this give no step at all. */
const LEAST_FRAMES = 64;

/** What was heard, ready to be asked for any phrase. */
export interface HeardSteps {
  readonly words: CtcScorer;
  readonly phones: CtcScorer;
}

/** The same, and what it is compared by; made when a voice card asks for it. */
export interface HeardTraits extends HeardSteps {
  readonly traits: () => SpeechTraits;
}

export class PhraseNetwork {
  private constructor(
    private readonly filter: MelFilter,
    private readonly model: InferenceSession,
  ) {}

  static async create(read: ReadModelFile): Promise<PhraseNetwork> {
    const filter = await MelFilter.create(read);
    const network = new PhraseNetwork(filter, await openModel(read, 'phrase_network.onnx'));
    await network.hear(WARM_UP_SOUND);
    return network;
  }

  /** Null where the utterance is too short for anything. */
  async hear(pcm: Float32Array): Promise<HeardTraits | null> {
    const bands = await this.filter.bands(prepareSound(pcm, PAD_SAMPLES));
    const frames = bands.length / BANDS;
    if (frames < LEAST_FRAMES) return null;
    const mel = new Tensor('float32', bands, [frames, BANDS]);
    const out = await runInTurn(() => this.model.run({ mel }));
    const phones = toSteps(out['phones']);
    return {
      words: new CtcScorer(toSteps(out['words'])),
      phones: new CtcScorer(phones),
      traits: () => toTraits(toSteps(out['features']), phones, bands),
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
