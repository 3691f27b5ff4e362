import { describe, expect, it } from 'vitest';
import { BANDS } from '../../src/voice/mel-filter';
import { CEPSTRAL_SIZE, phraseDistance, toCepstra, VoiceSpace } from '../../src/voice';
import type { SpeechTraits, SpeechVectors } from '../../src/voice';

const SIZE = 12;

/** Unit vectors along the given axes, one after another. */
function along(...axes: readonly number[]): SpeechVectors {
  const data = new Float32Array(axes.length * SIZE);
  axes.forEach((axis, index) => (data[index * SIZE + axis] = 1));
  return { data, count: axes.length, size: SIZE };
}

describe('examples of phrases', () => {
  it('[VOI19] are at no distance from themselves, spoken slower or not', () => {
    expect(phraseDistance(along(1, 2, 3), along(1, 2, 3))).toBe(0);
    expect(phraseDistance(along(1, 2, 3), along(1, 1, 2, 3, 3))).toBe(0);
  });

  it('[VOI19] are at the distance that dynamic time warping gives by hand', () => {
    // One of three vectors at a right angle: cost 1 on the diagonal counts twice, over 3 + 3.
    expect(phraseDistance(along(1, 2, 3), along(1, 9, 3))).toBeCloseTo(2 / 6, 6);
    expect(phraseDistance(along(1, 2, 3, 4), along(5, 6, 7, 8))).toBeCloseTo(1, 6);
  });

  it('[VOI19] are infinitely far from nothing and from what is far longer', () => {
    expect(phraseDistance(along(1), along())).toBe(Infinity);
    expect(phraseDistance(along(1, 2), along(...new Array<number>(20).fill(1)))).toBe(Infinity);
  });
});

describe('what utterances are compared by', () => {
  it('[VOI20] has in each cepstrum the cosine that the bands were made of, and how it changes', () => {
    // Bands that are the second cosine of the transform (its definition), louder by one each frame.
    const cosine = (k: number, band: number): number =>
      Math.cos((Math.PI * k * (band + 0.5)) / BANDS);
    const frames = 7;
    const bands = Float32Array.from(
      { length: frames * BANDS },
      (_, at) => Math.floor(at / BANDS) * cosine(2, at % BANDS),
    );
    const rows = toCepstra(bands);
    // The square of a cosine sums to half the number of bands; scaled by the root of two over it.
    const unit = Math.sqrt(BANDS / 2);
    for (let frame = 0; frame < frames; frame += 1) {
      const row = rows.slice(frame * CEPSTRAL_SIZE, (frame + 1) * CEPSTRAL_SIZE);
      expect(row[1]).toBeCloseTo((frame - 3) * unit, 3);
      expect(row[0]).toBeCloseTo(0, 3);
      expect(row[2]).toBeCloseTo(0, 3);
    }
    // In the middle, where nothing is missing at the ends, it rises by one a frame.
    expect(rows[3 * CEPSTRAL_SIZE + CEPSTRAL_SIZE / 2 + 1]).toBeCloseTo(unit, 3);
  });

  it('[VOI20] weighs every trait by how much it differs in the voice, whatever its size', () => {
    const traitsOf = (scale: number): SpeechTraits => ({
      learnt: Float32Array.from([1, -1, 2, 0, 0, 3]).map((x) => x * scale),
      cepstral: Float32Array.from({ length: 3 * CEPSTRAL_SIZE }, (_, at) => Math.sin(at)),
      count: 3,
    });
    const [small, large] = [traitsOf(1), traitsOf(50)].map((traits) =>
      new VoiceSpace([traits]).place(traits),
    );
    expect(small?.size).toBe(2 + CEPSTRAL_SIZE);
    small?.data.forEach((x, at) => expect(x).toBeCloseTo(large?.data[at] ?? NaN, 4));
    for (let row = 0; row < 3; row += 1) {
      const vector = [...(small?.data ?? [])].slice(
        row * (2 + CEPSTRAL_SIZE),
        (row + 1) * (2 + CEPSTRAL_SIZE),
      );
      expect(vector.reduce((sum, x) => sum + x * x, 0)).toBeCloseTo(1, 4);
    }
  });
});
