/**
 * Traits of the speech in an utterance, in rows of 40 ms: two steps of the phrase network
 * each. Where speech begins and ends the network says: noise before and after it, which
 * loudness can't tell from speech, is no trait of what was said. Pure.
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
  const cepstra = toCepstra(bands.subarray(firstFrame * BANDS, (firstFrame + frames) * BANDS));
  return {
    learnt: meanOfRows(features.data, features.classes, first, STEPS_PER_ROW, count),
    cepstral: meanOfRows(cepstra, CEPSTRAL_SIZE, 0, STEPS_PER_ROW * FRAMES_PER_STEP, count),
    count,
  };
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
