/** The probability that goes with each decision. */
import { fc, test } from '@fast-check/vitest';
import { describe, expect, it } from 'vitest';
import {
  CALIBRATION,
  decideByNetwork,
  decideFromAll,
  describeEvidence,
  scoreOf,
} from '../../src/voice';
import type { Evidence, KnownBy, PhraseAtDistance } from '../../src/voice';
import { DEPTH_VOCABULARY } from './depth-vocabulary';

const TEXTS = DEPTH_VOCABULARY.phrases.map(({ words }) => words);
const SAID = 'depth two four';
const OTHER_SIZE = 'depth three two';

/** A ranking of all phrases, the nearest first. */
const rankingOf = (distances: readonly number[]): PhraseAtDistance[] =>
  TEXTS.map((words, index) => ({ words, distance: distances[index] ?? 0 })).sort(
    (a, b) => a.distance - b.distance,
  );

const distances = (most: number) =>
  fc.array(fc.double({ min: 0, max: most, noNaN: true }), {
    minLength: TEXTS.length,
    maxLength: TEXTS.length,
  });

/** Any opinions of an utterance, of any of the listeners. */
const anyEvidence = fc.record({
  network: fc.option(distances(60)),
  ranked: fc.option(distances(1)),
  text: fc.option(distances(30)),
  head: distances(60),
  grammar: fc.option(
    fc.record({
      words: fc.constantFrom(null, ...TEXTS),
      margin: fc.double({ min: -20, max: 20, noNaN: true }),
    }),
  ),
});
type Any = typeof anyEvidence extends fc.Arbitrary<infer T> ? T : never;

const toEvidence = ({ network, ranked, text, head, grammar }: Any): Evidence => ({
  network: network ? rankingOf(network) : [],
  ranked: ranked ? rankingOf(ranked) : [],
  text: text ? rankingOf(text) : [],
  head: text ? rankingOf(head) : [],
  grammar: grammar && { words: grammar.words, margin: () => grammar.margin },
});

const score = (any: Any): number => scoreOf(SAID, toEvidence(any), DEPTH_VOCABULARY);
/** Rounding of doubles, nothing else. */
const ROUNDING = 1e-9;
const nearer = (list: readonly number[] | null, by: number): number[] | null =>
  list && list.map((distance, index) => (TEXTS[index] === SAID ? distance - by : distance));

describe('the score of a decision', () => {
  test.prop([anyEvidence])('[VOI1] is between 0 and 1, and 0 where no phrase is given', (any) => {
    expect(score(any)).toBeGreaterThanOrEqual(0);
    expect(score(any)).toBeLessThanOrEqual(1);
    expect(scoreOf(null, toEvidence(any), DEPTH_VOCABULARY)).toBe(0);
  });

  test.prop([anyEvidence, fc.double({ min: 0, max: 60, noNaN: true })])(
    '[VOI79] never falls where the phrase lies nearer to what was heard, or the grammar is surer',
    (any, by) => {
      const least = score(any) - ROUNDING;
      expect(score({ ...any, network: nearer(any.network, by) })).toBeGreaterThanOrEqual(least);
      expect(score({ ...any, ranked: nearer(any.ranked, by / 60) })).toBeGreaterThanOrEqual(least);
      expect(score({ ...any, text: nearer(any.text, by) })).toBeGreaterThanOrEqual(least);
      const head = nearer(any.head, by) ?? [];
      expect(score({ ...any, head })).toBeGreaterThanOrEqual(least);
      const { grammar } = any;
      if (!grammar) return;
      const surer = { ...grammar, margin: grammar.margin + by };
      expect(score({ ...any, grammar: surer })).toBeGreaterThanOrEqual(least);
    },
  );

  test.prop([anyEvidence, distances(60)])(
    '[VOI79] is never lower where the grammar names the phrase too, never higher where it names another',
    (any, network) => {
      const by = (words: string | null) =>
        score({ ...any, network, grammar: { words, margin: 0 } });
      expect(by(SAID)).toBeGreaterThanOrEqual(by(null) - ROUNDING);
      expect(by('depth twenty four')).toBe(by(SAID));
      expect(by(OTHER_SIZE)).toBeLessThanOrEqual(by(null) + ROUNDING);
    },
  );

  it('[VOI79] rises with something in every set of listeners', () => {
    for (const { bias, ...weights } of Object.values(CALIBRATION)) {
      expect(bias).not.toBe(0);
      expect(Object.values(weights).every((weight) => weight >= 0)).toBe(true);
      expect(Math.max(...Object.values(weights))).toBeGreaterThan(0);
    }
  });

  it('[VOI79] knows who spoke for a phrase, and asks for the margin only where nobody else does', () => {
    let asked = 0;
    const margin = () => {
      asked += 1;
      return 0;
    };
    const grammar = { words: SAID, margin };
    const network = rankingOf([1, 2, 3, 4, 5]);
    const knownBy = (evidence: Partial<Evidence>): KnownBy | null =>
      describeEvidence(
        SAID,
        { grammar: null, network: [], ranked: [], text: [], head: [], ...evidence },
        DEPTH_VOCABULARY,
      ).knownBy;
    expect(knownBy({})).toBeNull();
    expect(knownBy({ network })).toBe('network');
    expect(knownBy({ network, ranked: network, grammar })).toBe('network, card, grammar');
    expect(knownBy({ network, ranked: [{ words: OTHER_SIZE, distance: 0.4 }] })).toBe('network');
    const text = rankingOf([1, 2, 3, 4, 5]);
    expect(knownBy({ network, text, grammar })).toBe('network, grammar, text');
    // It is asked about what the other two made of it, never by itself.
    expect(knownBy({ text, grammar })).toBe('grammar');
    expect(knownBy({ network, text })).toBe('network');
    // But `npm run listen` shows its own word.
    expect(knownBy({ text })).toBe('text');
    expect(asked).toBe(1);
    asked = 0;
    expect(knownBy({ grammar })).toBe('grammar');
    expect(asked).toBe(1);
    expect(knownBy({ grammar: { words: OTHER_SIZE, margin } })).toBeNull();
  });

  it('[VOI79] goes with the phrase that is taken, or with the first of two that are asked about', () => {
    const grammar = { words: null, margin: () => -Infinity, unexplainedMs: 0, speechMs: 900 };
    const opinions = {
      grammar,
      ranked: [],
      text: [],
      head: [],
      unsayable: [],
      knows: () => false,
      secondVoice: () => 0,
    };
    const clear = rankingOf([1, 2, 40, 50, 60]);
    const taken = decideFromAll({ ...opinions, network: clear }, DEPTH_VOCABULARY);
    expect(taken).toEqual({
      words: SAID,
      score: scoreOf(
        SAID,
        { grammar, network: clear, ranked: [], text: [], head: [] },
        DEPTH_VOCABULARY,
      ),
    });
    const close = rankingOf([1, 40, 2, 50, 60]);
    const asked = decideByNetwork({ network: close, ranked: [], unsayable: [] }, DEPTH_VOCABULARY);
    expect(asked).toEqual({
      words: null,
      candidates: [SAID, OTHER_SIZE],
      score: scoreOf(
        SAID,
        { grammar: null, network: close, ranked: [], text: [], head: [] },
        DEPTH_VOCABULARY,
      ),
    });
    expect(asked.score).toBeLessThan(taken.score);
    const two = { ...opinions, network: clear, secondVoice: () => 1 };
    expect(decideFromAll(two, DEPTH_VOCABULARY).score).toBe(0);
  });
});
