import { describe, expect, it } from 'vitest';
import { decideFromAll } from '../../src/voice';
import type { PhraseAtDistance } from '../../src/voice';
import { DEPTH_VOCABULARY } from './depth-vocabulary';

function decide(
  words: string | null,
  ranked: readonly PhraseAtDistance[],
  { margin = 0, unexplainedMs = 0, knows = true } = {},
) {
  const grammar = {
    words,
    margin: () => (words === null ? -Infinity : margin),
    unexplainedMs,
    speechMs: 900,
  };
  return decideFromAll(
    {
      grammar,
      ranked,
      network: [],
      text: [],
      head: [],
      unsayable: [],
      knows: () => knows,
      secondVoice: () => 0,
    },
    DEPTH_VOCABULARY,
  );
}

const at = (words: string, distance: number): PhraseAtDistance => ({ words, distance });

describe('a decision without a network', () => {
  it('[VOI16] takes what both heard, also far below what one alone would take', () => {
    const ranked = [at('depth two four', 0.6), at('depth three two', 0.66)];
    expect(decide('depth two four', ranked, { margin: -10 }).words).toBe('depth two four');
  });

  it('[VOI16] takes two ways of saying the same size as agreement', () => {
    const ranked = [at('depth twenty four', 0.45), at('depth three two', 0.66)];
    expect(decide('depth two four', ranked).words).toBe('depth two four');
  });

  it('[VOI16] takes nothing where both name the same phrase but no example is near: talk', () => {
    expect(decide('pin placed', [at('pin placed', 0.78)], { margin: 1 })).toMatchObject({
      words: null,
    });
    expect(decide('pin placed', [at('pin placed', 0.45)], { unexplainedMs: 900 }).words).toBeNull();
  });

  it('[VOI17] never offers a size on which they differ, however sure one of them is', () => {
    const ranked = [at('depth two four', 0.2), at('pin placed', 0.79)];
    const decided = decide('depth three two', ranked, { margin: 5 });
    expect(decided.words).toBeNull();
    expect(decided.candidates).toEqual(['depth two four', 'depth three two']);
  });

  it('[VOI17] never offers a size that only one of them heard', () => {
    const ranked = [at('depth two four', 0.2), at('depth three two', 0.7)];
    expect(decide(null, ranked)).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
  });

  it('[VOI17] leaves a size to the grammar alone only where no example contests it', () => {
    const strange = { margin: 0, knows: false };
    const near = decide('depth two four', [at('pin placed', 0.45)], strange);
    expect(near).toMatchObject({ words: null, candidates: ['depth two four', 'pin placed'] });
    const far = decide('depth two four', [at('pin placed', 0.79)], strange);
    expect(far.words).toBe('depth two four');
    expect(decide('depth two four', [], strange).words).toBe('depth two four');
    expect(decide('depth two four', [], { ...strange, margin: -6 }).words).toBeNull();
  });

  it('[VOI18] takes an order that is no size on near examples alone, unless another is near', () => {
    expect(decide(null, [at('pin placed', 0.4), at('say again', 0.5)]).words).toBe('pin placed');
    const close = decide(null, [at('pin placed', 0.4), at('say again', 0.42)]);
    expect(close).toMatchObject({ words: null, candidates: ['pin placed', 'say again'] });
    const against = decide('say again', [at('pin placed', 0.4), at('depth two four', 0.7)]);
    expect(against).toMatchObject({ words: null, candidates: ['pin placed', 'say again'] });
  });

  it('[VOI18] is silent about talk: nothing near, nothing likely', () => {
    const decided = decide('pin placed', [at('say again', 0.78)], { margin: -8 });
    expect(decided.words).toBeNull();
    expect(decided.candidates).toBeUndefined();
  });
});
