import { describe, expect, it } from 'vitest';
import { BANDS } from '../../src/voice/network/mel-filter';
import { CEPSTRAL_SIZE, phraseDistance, toCepstra, VoiceSpace } from '../../src/voice';
import { toTraits } from '../../src/voice/network/traits-of-steps';
import type { SpeechTraits, SpeechVectors } from '../../src/voice';

const SIZE = 12;

/** Unit vectors along the given axes, one after another. */
function along(...axes: readonly number[]): SpeechVectors {
  const data = new Float32Array(axes.length * SIZE);
  axes.forEach((axis, index) => (data[index * SIZE + axis] = 1));
  return { data, weights: data.slice(0, axes.length).fill(1), count: axes.length, size: SIZE };
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

  it('[VOI19] differ less where the rows that differ count less', () => {
    const faint = (...axes: readonly number[]): SpeechVectors => ({
      ...along(...axes),
      weights: Float32Array.of(1, 0.25, 1),
    });
    // By hand: the middle rows at a right angle cost 0.25 each, over 2.25 + 2.25.
    expect(phraseDistance(faint(1, 2, 3), faint(1, 9, 3))).toBeCloseTo(0.5 / 4.5, 6);
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
      weights: Float32Array.of(1, 1, 1),
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

  it('[VOI20] counts loud rows fully and faint ones little', () => {
    // A step each 20 ms, the first in the middle of frame 32; a row is two steps, four frames.
    const steps = 20;
    const silent = (row: number): boolean => row < 3 || row >= 8;
    const phones = { data: new Float32Array(steps).fill(Math.log(0.1)), steps, classes: 1 };
    const features = { data: new Float32Array(steps).fill(1), steps, classes: 1 };
    const bands = Float32Array.from({ length: (32 + 2 * steps + 32) * BANDS }, (_, at) =>
      // Ten dB a unit: fifty below the rest.
      silent(Math.floor((Math.floor(at / BANDS) - 32) / 4)) ? 0 : 5,
    );
    const { weights, count } = toTraits(features, phones, bands);
    expect(count).toBe(10);
    const [least = NaN] = weights;
    expect(least).toBeLessThan(0.5);
    expect(
      [...weights].map((weight, row) => (silent(row) ? weight === least : weight === 1)),
    ).toEqual(new Array(10).fill(true));
  });
});
