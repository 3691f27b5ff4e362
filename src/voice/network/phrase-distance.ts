/**
 * How far two utterances are apart: dynamic time warping of their vectors with the
 * symmetric step weights of Sakoe and Chiba (IEEE ASSP 26, 1978), cosine distance, each row
 * counted by its weight, divided by all weights. Pure. 0 is equal; different phrases are
 * some tenths apart.
 */
import type { SpeechVectors } from './speech-traits';

/** How much longer than the other may one utterance be? Beyond that nobody says the same. */
const MOST_STRETCH = 3;

/** Infinity where one is empty or far longer than the other. */
export function phraseDistance(a: SpeechVectors, b: SpeechVectors): number {
  const [longer, shorter] = a.count > b.count ? [a.count, b.count] : [b.count, a.count];
  if (shorter === 0 || longer > shorter * MOST_STRETCH + 4) return Infinity;
  let above = new Float64Array(b.count + 1).fill(Infinity);
  let row = new Float64Array(b.count + 1);
  above[0] = 0;
  for (let i = 0; i < a.count; i += 1) {
    row[0] = Infinity;
    const ofA = a.weights[i] ?? 0;
    for (let j = 0; j < b.count; j += 1) {
      const cost = 1 - dotAt(a, i, b, j);
      const ofB = b.weights[j] ?? 0;
      row[j + 1] = Math.min(
        (above[j] ?? Infinity) + (ofA + ofB) * cost,
        (above[j + 1] ?? Infinity) + ofA * cost,
        (row[j] ?? Infinity) + ofB * cost,
      );
    }
    [above, row] = [row, above];
  }
  return (above[b.count] ?? Infinity) / (sumOf(a.weights) + sumOf(b.weights));
}

function dotAt(a: SpeechVectors, i: number, b: SpeechVectors, j: number): number {
  const [from, to] = [i * a.size, j * b.size];
  let sum = 0;
  for (let index = 0; index < a.size; index += 1)
    sum += (a.data[from + index] ?? 0) * (b.data[to + index] ?? 0);
  return sum;
}

function sumOf(weights: Float32Array): number {
  return weights.reduce((total, weight) => total + weight, 0);
}
