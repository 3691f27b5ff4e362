import { describe, expect, it } from 'vitest';
import { CardExamples, CEPSTRAL_SIZE, soundToPcm } from '../../src/voice';
import type { SpeechTraits } from '../../src/voice';

const LEARNT = 4;

/** So many rows of an invented sound that goes up and down by one kind of trait. */
function traitsOf(kind: number, count: number): SpeechTraits {
  const wave = (size: number): Float32Array =>
    Float32Array.from({ length: count * size }, (_, at) =>
      Math.sin(kind * (1 + (at % size)) + Math.floor(at / size)),
    );
  return {
    learnt: wave(LEARNT),
    cepstral: wave(CEPSTRAL_SIZE),
    weights: new Float32Array(count).fill(1),
    count,
  };
}

/** A card whose recordings are told apart by their length; `heard` is what is made of each. */
async function examplesOf(heard: readonly (readonly [string, SpeechTraits])[]) {
  const takes = heard.map(([text], at) => ({
    text,
    pcm: soundToPcm(new Float32Array(3_200 + at)),
  }));
  const examples = new CardExamples(async ({ length }) => heard[length - 3_200]?.[1] ?? null, {
    label: 'surgeon A',
    takes,
  });
  examples.want(heard.map(([text]) => text));
  while (examples.learning.done < examples.learning.total) await examples.learnSome();
  return examples;
}

describe('examples of a voice card', () => {
  const said = traitsOf(1, 8);
  const others = [
    ['two', traitsOf(1.02, 8)],
    ['two', traitsOf(0.98, 8)],
    ['nine', traitsOf(2.5, 8)],
  ] as const;

  it('[CARD17] leave out a recording in which nothing is heard', async () => {
    const examples = await examplesOf([
      ['two', traitsOf(1, 0)],
      ...others,
      ['six', traitsOf(1, 0)],
    ]);
    const [two = NaN, nine = NaN, six] = examples.distances(said, ['two', 'nine', 'six']);
    expect(two).toBeLessThan(nine);
    expect(six).toBe(Infinity);
    expect(examples.knows('six')).toBe(false);
  });

  it('[CARD17] leave out one that is far too long for what was said', async () => {
    const examples = await examplesOf([['two', traitsOf(1, 90)], ...others]);
    const [two = NaN, nine = NaN] = examples.distances(said, ['two', 'nine']);
    expect(two).toBeLessThan(nine);
  });
});
