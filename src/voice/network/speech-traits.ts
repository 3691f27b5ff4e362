/**
 * What an utterance is compared by, in rows of 40 ms: what the phrase network makes of its
 * sounds on the way to phones (the same for everyone), and cepstra (the speaker's own).
 * Either alone tells a known speaker's digits apart in 98 to 99 of 100; together more, and
 * in noise far more (docs/voice-tried.md). Pure.
 */
import { CEPSTRAL_SIZE } from './cepstra';

/** Rows one after another, as they come out of network and filter. */
export interface SpeechTraits {
  readonly learnt: Float32Array;
  readonly cepstral: Float32Array;
  /** How much each row counts, 0 to 1: loud ones fully, what lies between the room and speech little. */
  readonly weights: Float32Array;
  readonly count: number;
}

/** Rows of one length each, ready to be compared: the product of two rows is their likeness. */
export interface SpeechVectors {
  readonly data: Float32Array;
  readonly weights: Float32Array;
  readonly count: number;
  readonly size: number;
}

/** What cepstra weigh against what was learnt; set on a quarter of data/fsdd: 1.5 to 2.5 gave the same. */
const CEPSTRAL_WEIGHT = 2;
/** No trait differs less than this between sounds. */
const LEAST_SPREAD = 1e-6;

/** How each trait lies in one voice; utterances are compared in its terms. */
export class VoiceSpace {
  readonly #learnt: Trait;
  readonly #cepstral: Trait;

  /** From all that is known of a voice; without anything every trait counts as it comes. */
  constructor(known: readonly SpeechTraits[]) {
    this.#learnt = describe(known, ({ learnt }) => learnt, sizeOf(known), true);
    this.#cepstral = describe(known, ({ cepstral }) => cepstral, CEPSTRAL_SIZE, false);
  }

  place({ learnt, cepstral, weights, count }: SpeechTraits): SpeechVectors {
    const [wide, narrow] = [this.#learnt.mean.length, CEPSTRAL_SIZE];
    const size = wide + narrow;
    const data = new Float32Array(count * size);
    const share = CEPSTRAL_WEIGHT / (1 + CEPSTRAL_WEIGHT);
    for (let row = 0; row < count; row += 1) {
      putUnit(data, row * size, learnt, row * wide, this.#learnt, 1 - share);
      putUnit(data, row * size + wide, cepstral, row * narrow, this.#cepstral, share);
    }
    return { data, weights, count, size };
  }
}

interface Trait {
  readonly mean: Float64Array;
  readonly spread: Float64Array;
}

function sizeOf(known: readonly SpeechTraits[]): number {
  const some = known.find(({ count }) => count > 0);
  return some ? some.learnt.length / some.count : 0;
}

/** Mean (or none: cepstra are centred in each utterance) and standard deviation of each column, rows counted by their weights. */
function describe(
  known: readonly SpeechTraits[],
  tableOf: (traits: SpeechTraits) => Float32Array,
  size: number,
  isCentred: boolean,
): Trait {
  const sum = new Float64Array(size);
  const squares = new Float64Array(size);
  let all = 0;
  for (const traits of known) {
    all += traits.weights.reduce((total, weight) => total + weight, 0);
    tableOf(traits).forEach((x, index) => {
      const column = index % size;
      const weight = traits.weights[Math.floor(index / size)] ?? 0;
      sum[column] = (sum[column] ?? 0) + weight * x;
      squares[column] = (squares[column] ?? 0) + weight * x * x;
    });
  }
  const mean = sum.map((x) => x / Math.max(all, LEAST_SPREAD));
  const spread = squares.map((x, column) =>
    Math.max(Math.sqrt(Math.max(0, x / all - (mean[column] ?? 0) ** 2)), LEAST_SPREAD),
  );
  return { mean: isCentred ? mean : mean.fill(0), spread };
}

/** One row, each trait in spreads from its mean, as a vector whose square is `weight`. */
function putUnit(
  out: Float32Array,
  to: number,
  from: Float32Array,
  at: number,
  { mean, spread }: Trait,
  weight: number,
): void {
  let square = 0;
  for (let index = 0; index < mean.length; index += 1) {
    const x = ((from[at + index] ?? 0) - (mean[index] ?? 0)) / (spread[index] ?? 1);
    out[to + index] = x;
    square += x * x;
  }
  const scale = Math.sqrt(weight / Math.max(square, LEAST_SPREAD));
  for (let index = 0; index < mean.length; index += 1)
    out[to + index] = (out[to + index] ?? 0) * scale;
}
