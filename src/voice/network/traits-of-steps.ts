/**
 * Traits of the speech in an utterance, in rows of 40 ms: two steps of the phrase network
 * each. Where speech begins and ends the network says: noise before and after it, which
 * loudness can't tell from speech, is no trait of what was said. What is faint beside the
 * loudest sounds counts little: it is the room, more than the speaker. Pure.
 */
import { CEPSTRAL_SIZE, toCepstra } from './cepstra';
import type { StepScores } from './ctc';
import { BANDS } from './mel-filter';
import type { SpeechTraits } from './speech-traits';

/** Mel frames from one step to the next, and from the first frame to the middle of the first step; set by the model. */
const FRAMES_PER_STEP = 2;
const FIRST_MIDDLE = 32;
/** How many steps are kept before the first and after the last sound of a phone? It is named near its middle. */
const KEPT_AROUND = 10;
/** A step with a greater share of "no phone" than this names none. */
const NO_PHONE = Math.log(0.5);
/** 40 ms are told apart as well as 20, for a quarter of the work. */
const STEPS_PER_ROW = 2;
/** How far below the loud rows (nine in ten are softer), in dB, does a row begin to count less, and from where on least? */
const FULL_WITHIN_DB = 20;
const LEAST_FROM_DB = 40;
/** What does the faintest row count? Silence before and after is a little of what was said. 0.05 to 0.5 gave nearly the same. */
const LEAST_WEIGHT = 0.2;
const LOUD_SHARE = 0.9;
/** A mel band is the tenth of its level in dB, and two more (mel-filter.ts). */
const DB_PER_BAND = 10;

/** `features`: what the network makes of each step; `bands`: the mel frames that it saw. */
export function toTraits(
  features: StepScores,
  phones: StepScores,
  bands: Float32Array,
): SpeechTraits {
  const [first, end] = findSpeech(phones);
  const count = Math.floor((end - first) / STEPS_PER_ROW);
  const firstFrame = first * FRAMES_PER_STEP + FIRST_MIDDLE;
  const frames = count * STEPS_PER_ROW * FRAMES_PER_STEP;
  const said = bands.subarray(firstFrame * BANDS, (firstFrame + frames) * BANDS);
  return {
    learnt: meanOfRows(features.data, features.classes, first, STEPS_PER_ROW, count),
    cepstral: meanOfRows(toCepstra(said), CEPSTRAL_SIZE, 0, STEPS_PER_ROW * FRAMES_PER_STEP, count),
    weights: weighRows(said, count),
    count,
  };
}

/** By how loud each row is beside the loud ones. */
function weighRows(bands: Float32Array, count: number): Float32Array {
  const size = STEPS_PER_ROW * FRAMES_PER_STEP * BANDS;
  const levels = Float32Array.from({ length: count }, (_, row) => {
    const own = bands.subarray(row * size, (row + 1) * size);
    return (own.reduce((sum, band) => sum + band, 0) * DB_PER_BAND) / size;
  });
  const loud = levels.toSorted()[Math.floor(count * LOUD_SHARE)] ?? 0;
  return levels.map((level) => {
    const share = (level - loud + LEAST_FROM_DB) / (LEAST_FROM_DB - FULL_WITHIN_DB);
    return LEAST_WEIGHT + (1 - LEAST_WEIGHT) * Math.max(0, Math.min(1, share));
  });
}

/** First step and the step after the last; no steps where no phone was heard at all. */
function findSpeech({ data, steps, classes }: StepScores): readonly [number, number] {
  let [first, last] = [steps, -1];
  for (let step = 0; step < steps; step += 1) {
    if ((data[step * classes] ?? 0) > NO_PHONE) continue;
    first = Math.min(first, step);
    last = step;
  }
  return last < 0
    ? [0, 0]
    : [Math.max(0, first - KEPT_AROUND), Math.min(steps, last + KEPT_AROUND + 1)];
}

/** Means of `each` rows of a table, from row `first` on. */
function meanOfRows(
  table: Float32Array,
  size: number,
  first: number,
  each: number,
  count: number,
): Float32Array {
  const out = new Float32Array(count * size);
  for (let row = 0; row < count * each; row += 1) {
    const [to, from] = [Math.floor(row / each) * size, (first + row) * size];
    for (let index = 0; index < size; index += 1)
      out[to + index] = (out[to + index] ?? 0) + (table[from + index] ?? 0) / each;
  }
  return out;
}
