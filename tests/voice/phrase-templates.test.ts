import { describe, expect, it } from 'vitest';
import { phraseDistance, readTemplates, VECTOR_SIZE, writeTemplates } from '../../src/voice';
import type { SpeechVectors } from '../../src/voice';

/** Unit vectors along the given axes, one after another. */
function along(...axes: readonly number[]): SpeechVectors {
  const data = new Float32Array(axes.length * VECTOR_SIZE);
  axes.forEach((axis, index) => (data[index * VECTOR_SIZE + axis] = 1));
  return { data, count: axes.length };
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

  it('[VOI20] come back from their file with text, voice and direction', () => {
    const data = Float32Array.from({ length: VECTOR_SIZE }, (_, index) => Math.sin(index));
    const length = Math.hypot(...data);
    const vectors = { data: data.map((x) => x / length), count: 1 };
    const [back] = readTemplates(
      writeTemplates([{ text: 'theatre wall confirm', voice: 'one', vectors }]),
    );
    expect(back).toMatchObject({ text: 'theatre wall confirm', voice: 'one' });
    expect(back && phraseDistance(back.vectors, vectors)).toBeLessThan(1e-4);
  });

  it('[VOI20] are refused where their file is of another version or cut short', () => {
    const bytes = writeTemplates([{ text: 'a', voice: 'b', vectors: along(1, 2) }]);
    expect(() => readTemplates(bytes.subarray(0, bytes.length - 1))).toThrow('cut short');
    expect(() => readTemplates(new Uint8Array(2))).toThrow('No templates');
    const other = new TextDecoder('latin1').decode(bytes).replace('"version":1', '"version":9');
    expect(() => readTemplates(Buffer.from(other, 'latin1'))).toThrow('version 9');
  });
});
