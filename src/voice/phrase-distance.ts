/**
 * How far two utterances are apart: dynamic time warping of their vectors with the
 * symmetric step weights of Sakoe and Chiba (IEEE ASSP 26, 1978), cosine distance,
 * divided by both lengths. Pure. 0 is equal; different phrases are some tenths apart.
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
    for (let j = 0; j < b.count; j += 1) {
      const cost = 1 - dotAt(a, i, b, j);
      const diagonal = (above[j] ?? Infinity) + 2 * cost;
      row[j + 1] = Math.min(diagonal, (above[j + 1] ?? Infinity) + cost, (row[j] ?? 0) + cost);
    }
    [above, row] = [row, above];
  }
  return (above[b.count] ?? Infinity) / (a.count + b.count);
}

function dotAt(a: SpeechVectors, i: number, b: SpeechVectors, j: number): number {
  const [from, to] = [i * a.size, j * b.size];
  let sum = 0;
  for (let index = 0; index < a.size; index += 1)
    sum += (a.data[from + index] ?? 0) * (b.data[to + index] ?? 0);
  return sum;
}
