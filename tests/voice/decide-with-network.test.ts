import { describe, expect, it } from 'vitest';
import { decideFromAll, NETWORK_LIMITS, TWO_VOICES_LIMITS } from '../../src/voice';
import type { PhraseAtDistance } from '../../src/voice';
import { DEPTH_VOCABULARY } from './depth-vocabulary';

const at = (words: string, distance: number): PhraseAtDistance => ({ words, distance });

interface Others {
  readonly heard?: string | null;
  readonly margin?: number;
  readonly ranked?: readonly PhraseAtDistance[];
  readonly secondVoice?: number;
  readonly unexplainedMs?: number;
  readonly addressDistance?: number;
  /** Told each time the grammar's margin is asked for. */
  readonly onMargin?: () => void;
}

function decide(network: readonly PhraseAtDistance[], others: Others = {}) {
  const { heard = null, margin = 0, ranked = [] } = others;
  const { secondVoice = 0, unexplainedMs = 0, addressDistance } = others;
  const grammar = {
    words: heard,
    margin: () => {
      others.onMargin?.();
      return heard === null ? -Infinity : margin;
    },
    unexplainedMs,
    speechMs: 900,
  };
  return decideFromAll(
    {
      grammar,
      ranked,
      network,
      text: [],
      head: [],
      unsayable: [],
      knows: () => true,
      secondVoice: () => secondVoice,
      ...(addressDistance !== undefined && { addressDistance }),
    },
    DEPTH_VOCABULARY,
  );
}

const {
  sureDistance,
  sureGap,
  rivalGapOfOwn,
  talkDistance,
  rivalMarginOfSize,
  rivalMarginOfVouched,
  ownDistance,
  leastShareOfSounds,
  heardDistance,
  leastScore,
  addressDistance,
} = NETWORK_LIMITS;

describe('a decision with the phrase network', () => {
  const clear = [at('depth two four', 2), at('depth twenty four', 3), at('depth three two', 40)];

  it('[VOI63] takes a size that it hears clearly, another wording of it beside it or not', () => {
    expect(decide(clear).words).toBe('depth two four');
    expect(decide(clear, { heard: 'depth twenty four' }).words).toBe('depth two four');
  });

  it('[VOI107] is talk where neither a phrase was made out nor what one says first', () => {
    const far = [at('depth two four', talkDistance + 20)];
    expect(decide(far, { addressDistance: addressDistance + 1 })).toMatchObject({
      words: null,
      isTalk: true,
    });
    // What one says first was heard, or nobody can tell: somebody meant the wall.
    for (const others of [{ addressDistance: addressDistance - 1 }, {}])
      expect(decide(far, others)).not.toHaveProperty('isTalk');
    // A phrase that is taken or asked about is told, however its beginning sounded.
    const taken = decide(clear, { addressDistance: addressDistance + 1 });
    expect(taken.words).toBe('depth two four');
    expect(taken).not.toHaveProperty('isTalk');
  });

  it('[VOI63] asks about both where the next size is nearly as likely', () => {
    const close = [at('depth two four', 2), at('depth three two', 2 + sureGap / 3)];
    expect(decide(close)).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
  });

  it('[VOI63] takes what is less clear where the grammar names it too, and asks where it does not', () => {
    const faint = [at('pin placed', sureDistance + 5), at('say again', talkDistance + 30)];
    expect(decide(faint, { heard: 'pin placed', margin: -10 }).words).toBe('pin placed');
    expect(decide(faint)).toMatchObject({ words: null, candidates: ['pin placed', 'say again'] });
  });

  it('[VOI63] never offers one size where another listener is sure of another', () => {
    const contested = decide(clear, { heard: 'depth three two', margin: rivalMarginOfSize });
    expect(contested).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
    const byCard = decide(clear, {
      ranked: [at('depth three two', 0.3), at('depth two four', 0.6), at('depth twenty four', 0.6)],
    });
    expect(byCard.words).toBeNull();
    expect(byCard.candidates).toEqual(['depth three two', 'depth two four']);
  });

  it('[VOI63] lets a weak objection stand against a size, not against another order', () => {
    const weak = { margin: rivalMarginOfSize + 1 };
    expect(decide(clear, { heard: 'depth three two', ...weak }).words).toBeNull();
    const order = [at('pin placed', 2), at('say again', 60)];
    expect(decide(order, { heard: 'say again', ...weak }).words).toBe('pin placed');
  });

  it('[VOI63] asks for the margin of the grammar only where it can change the decision', () => {
    let asked = 0;
    const onMargin = (): void => {
      asked += 1;
    };
    decide(clear, { heard: 'depth two four', onMargin });
    decide(clear, { heard: 'depth twenty four', onMargin });
    decide(clear, { heard: null, onMargin });
    decide(clear, { heard: 'depth three two', unexplainedMs: 5_000, onMargin });
    expect(asked).toBe(0);
    decide(clear, { heard: 'depth three two', onMargin });
    expect(asked).toBe(1);
    decide([at('pin placed', sureDistance + 5)], { heard: 'pin placed', onMargin });
    expect(asked).toBe(2);
  });

  it('[VOI64] takes talk for an order only where both others say so', () => {
    const talk = [at('pin placed', talkDistance + 1), at('say again', talkDistance + 2)];
    const near = [at('pin placed', 0.3), at('say again', 0.7)];
    expect(decide(talk, { ranked: near }).words).toBeNull();
    expect(decide(talk, { ranked: near }).candidates).toBeUndefined();
    expect(decide(talk, { heard: 'pin placed', margin: 5, ranked: near }).words).toBe('pin placed');
    // Without a card there is no second one to say so.
    expect(decide(talk, { heard: 'pin placed', margin: 5 })).toEqual({ words: null, score: 0 });
    const elsewhere = [at('say again', 0.3)];
    expect(decide(talk, { heard: 'pin placed', margin: 5, ranked: elsewhere }).words).toBeNull();
  });

  it('[VOI70] refuses what was said while a second voice spoke, unless one is heard far more clearly', () => {
    const { likelyShare, sureShare, clearDistance, clearCardGap } = TWO_VOICES_LIMITS;
    const two = { words: null, hasTwoVoices: true };
    expect(decide(clear, { secondVoice: likelyShare })).toMatchObject(two);
    expect(decide(clear, { secondVoice: likelyShare / 2 }).words).toBe('depth two four');
    const veryClear = [at('depth two four', clearDistance - 1), at('depth three two', 40)];
    expect(decide(veryClear, { secondVoice: likelyShare }).words).toBe('depth two four');
    expect(decide(veryClear, { secondVoice: sureShare })).toMatchObject(two);
    // A card that knows the voice by far makes it as clear; one with a single phrase does not.
    const known = at('depth two four', 0.4);
    const ranked = [known, at('depth three two', 0.4 + 2 * clearCardGap)];
    expect(decide(clear, { ranked, secondVoice: likelyShare }).words).toBe('depth two four');
    expect(decide(clear, { ranked: [known], secondVoice: likelyShare })).toMatchObject(two);
    // Nor does a stranger's card, however far apart its phrases are.
    const strangers = ranked.map(({ words, distance }) => at(words, distance + ownDistance));
    expect(decide(clear, { ranked: strangers, secondVoice: likelyShare })).toMatchObject(two);
  });

  it('[VOI75] lets a card settle what the network left open, against the grammar too', () => {
    const open = [at('depth two four', 9), at('depth three two', 12)];
    const ranked = [at('depth three two', 0.4), at('depth two four', 0.5)];
    expect(decide(open).words).toBeNull();
    expect(decide(open, { ranked }).words).toBe('depth three two');
    const against = { heard: 'depth two four', margin: rivalMarginOfSize, ranked };
    expect(decide(open, against).words).toBe('depth three two');
    const close = [at('depth three two', 0.45), at('depth two four', 0.46)];
    expect(decide(open, { ranked: close }).words).toBeNull();
  });

  it('[VOI75] lets a card that is clear overrule the network, unless that is far clearer', () => {
    const ranked = [at('depth three two', 0.3), at('depth two four', 0.5)];
    const heardOtherwise = (gap: number) => [
      at('depth two four', 2),
      at('depth three two', 2 + gap),
    ];
    expect(decide(heardOtherwise(rivalGapOfOwn - 1), { ranked }).words).toBe('depth three two');
    expect(decide(heardOtherwise(rivalGapOfOwn + 1), { ranked })).toMatchObject({
      words: null,
      candidates: ['depth three two', 'depth two four'],
    });
  });

  it('[VOI108] lets a card that is sure of one phrase speak against what it has no example of', () => {
    const ranked = (gap: number) => [at('depth two four', 0.4), at('depth three two', 0.4 + gap)];
    const open = [at('pin placed', 9), at('depth two four', 12), at('depth three two', 60)];
    expect(decide(open, { ranked: ranked(0.14) }).words).toBe('depth two four');
    expect(decide(open, { ranked: ranked(0.02) }).words).toBeNull();
    // What it has no example of is near to nothing, and the nearest leads by little.
    const clearly = [at('pin placed', 2), at('depth two four', 50), at('depth three two', 60)];
    expect(decide(clearly, { ranked: ranked(0.11) }).words).toBe('pin placed');
  });

  it('[VOI75] asks where the grammar is sure of another size than the speaker’s own card', () => {
    const open = [at('depth two four', 9), at('depth three two', 12)];
    const ranked = [at('depth three two', 0.4), at('depth two four', 0.5)];
    const sure = { heard: 'depth two four', margin: rivalMarginOfVouched, ranked };
    expect(decide(open, sure)).toMatchObject({
      words: null,
      candidates: ['depth three two', 'depth two four'],
    });
  });

  it('[VOI75] lets a stranger’s card vouch for nothing', () => {
    const unsure = [at('depth two four', sureDistance + 5), at('depth three two', 60)];
    const grammar = { heard: 'depth three two', margin: rivalMarginOfSize };
    const ranked = (distance: number) => [
      at('depth two four', distance),
      at('depth three two', distance + 0.1),
    ];
    expect(decide(unsure, { ...grammar, ranked: ranked(0.25) }).words).toBe('depth two four');
    expect(decide(unsure, { ...grammar, ranked: ranked(ownDistance + 0.01) })).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
  });

  it('[VOI80] asks about what nothing contests and is improbable all the same', () => {
    // As a size that may not be said now: a card clear of the others, but far; a network not sure.
    const ranked = [at('depth two four', ownDistance), at('depth three two', ownDistance + 0.1)];
    const network = (distance: number) => [
      at('depth two four', distance),
      at('depth three two', distance + 20),
    ];
    const asked = decide(network(sureDistance), { heard: null, ranked });
    expect(asked).toMatchObject({ words: null, candidates: ['depth two four', 'depth three two'] });
    expect(asked.score).toBeLessThan(leastScore);
    // A language without a network: the card is as far from the one as from the other, and names both.
    const nearly = [at('depth two four', ownDistance), at('depth three two', ownDistance)];
    const alone = decide([], { heard: 'depth two four', ranked: nearly });
    expect(alone).toMatchObject({ words: null, candidates: ['depth two four', 'depth three two'] });
    // Without a card too.
    expect(decide([at('depth two four', sureDistance - 1), at('depth three two', sureDistance + 10)])).toMatchObject({ words: null }); // prettier-ignore
    const taken = decide(network(1), { heard: 'depth two four', ranked: ranked.map(({ words, distance }) => at(words, distance - 0.4)) }); // prettier-ignore
    expect(taken.words).toBe('depth two four');
    expect(taken.score).toBeGreaterThanOrEqual(leastScore);
  });

  it('[VOI75] counts a phrase without examples as if it were as near as the nearest', () => {
    const open = [at('depth two four', 9), at('depth three two', 12)];
    expect(decide(open, { ranked: [at('depth three two', 0.4)] }).words).toBeNull();
  });

  it('[VOI70] tells nobody of two voices who talk to each other', () => {
    const talk = [at('pin placed', talkDistance + 1), at('say again', talkDistance + 2)];
    expect(decide(talk, { secondVoice: 1 })).toEqual({ words: null, score: 0 });
  });

  it('[VOI78] takes nothing of which hardly a sound was heard, however near, but from a near card', () => {
    const heard = (shareOfSounds: number) => [
      { ...at('depth two four', 2), shareOfSounds },
      { ...at('depth three two', 40), shareOfSounds },
    ];
    expect(decide(heard(leastShareOfSounds)).words).toBe('depth two four');
    expect(decide(heard(leastShareOfSounds - 0.01))).toEqual({ words: null, score: 0 });
    const own = [at('depth two four', 0.4), at('depth three two', 0.6)];
    const byCard = decide(heard(leastShareOfSounds - 0.01), { ranked: own });
    expect(byCard.words).toBe('depth two four');
  });

  it('[VOI98] lets few sounds do where a card is near, and asks where it is near to two sizes', () => {
    const few = [
      { ...at('depth two four', 2), shareOfSounds: leastShareOfSounds / 2 },
      { ...at('depth three two', 40), shareOfSounds: leastShareOfSounds / 2 },
    ];
    const card = (nearest: number, gap: number) => [
      at('depth two four', nearest),
      at('depth three two', nearest + gap),
    ];
    expect(decide(few, { ranked: card(heardDistance - 0.05, 0.02) }).words).toBe('depth two four');
    // Far, it is no voice that the card knows, however clearly it lies nearer to one of them.
    expect(decide(few, { ranked: card(heardDistance + 0.01, 0.3) })).toEqual({
      words: null,
      score: 0,
    });
    const close = few.map((phrase) => ({ ...phrase, distance: 5 }));
    expect(decide(close, { ranked: card(heardDistance - 0.05, 0.01) })).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
    // What is far from all speech stays talk.
    const talk = few.map((phrase) => ({ ...phrase, distance: phrase.distance + talkDistance }));
    expect(decide(talk, { ranked: card(0.3, 0.3) })).toEqual({ words: null, score: 0 });
  });

  it('[VOI64] leaves everything to the others where it has no opinion', () => {
    const near = [at('depth two four', 0.3), at('depth three two', 0.7)];
    expect(decide([], { heard: 'depth two four', ranked: near }).words).toBe('depth two four');
  });
});
