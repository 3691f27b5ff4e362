import { describe, expect, it } from 'vitest';
import {
  askedOfText, askedOfWriting, decideFromAll, listOtherNumbers, NETWORK_LIMITS, NO_TEXT, TEXT_LIMITS, withText,
} from '../../src/voice'; // prettier-ignore
import type { Opinions, PhraseAtDistance } from '../../src/voice';
import { DEPTH_VOCABULARY } from './depth-vocabulary';

const at = (words: string, distance: number): PhraseAtDistance => ({ words, distance });
const silent = { words: null, margin: () => -Infinity, unexplainedMs: 0, speechMs: 900 };

interface Others {
  readonly unsayable?: readonly PhraseAtDistance[];
  readonly head?: readonly PhraseAtDistance[];
  readonly ranked?: readonly PhraseAtDistance[];
  /** What the grammar hears, and how sure of it it is. */
  readonly heard?: string;
  readonly margin?: number;
}

function opinionsOf(
  network: readonly PhraseAtDistance[],
  text: readonly PhraseAtDistance[],
  { unsayable = [], head = text, ranked = [], heard, margin = 0 }: Others = {},
): Opinions {
  const grammar = heard === undefined ? silent : { ...silent, words: heard, margin: () => margin };
  return {
    grammar, ranked, network, text, head, unsayable, knows: () => true, secondVoice: () => 0,
  }; // prettier-ignore
}

function wordsOf(phrases: readonly { readonly words: string }[]): readonly string[] {
  return phrases.map(({ words }) => words);
}

function decide(
  network: readonly PhraseAtDistance[],
  text: readonly PhraseAtDistance[],
  others: Others = {},
) {
  return decideFromAll(opinionsOf(network, text, others), DEPTH_VOCABULARY);
}

const {
  sureGap,
  talkDistance,
  sureDistance,
  unsayableLead,
  rivalMarginOfSize,
  rivalMarginOfVouched,
} = NETWORK_LIMITS;
const {
  needlessGap,
  reach,
  reachOfWriting,
  rivalDistance,
  mostDistance,
  mostHeadDistance,
  perTextUnit,
} = TEXT_LIMITS;

describe('what the text listener counts for', () => {
  const close = [at('depth two four', 2), at('depth three two', 2 + sureGap / 2)];

  it('[VOI85] settles what the network leaves open, where it tells the two apart', () => {
    const agrees = [at('depth two four', 0), at('depth three two', mostDistance)];
    expect(decide(close, agrees).words).toBe('depth two four');
    expect(decide(close, [])).toMatchObject({ words: null });
    const shrugs = [at('depth two four', 0), at('depth three two', 0.5)];
    expect(decide(close, shrugs)).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
  });

  it('[VOI85] says no more beyond its limit, and nothing of what it was not asked about', () => {
    const network = [at('depth two four', 2), at('pin placed', 3), at('say again', 4)];
    const text = [at('pin placed', 0), at('depth two four', 10 * mostDistance)];
    const most = perTextUnit * mostDistance + mostHeadDistance;
    expect(withText(network, { text, head: text })).toEqual([
      at('pin placed', 3),
      at('depth two four', 2 + most),
      at('say again', 4 + most),
    ]);
    // Either of its two answers counts by itself.
    const head = [at('depth two four', 0), at('pin placed', 9), at('say again', 99)];
    expect(withText(network, { text, head })[0]).toEqual(at('pin placed', 12));
    expect(withText(network, NO_TEXT)).toBe(network);
  });

  it('[VOI86] contests a size that it finds far less likely, however sure the others are', () => {
    const clear = [at('depth two four', 2), at('depth three two', 2 + needlessGap - 1)];
    // It is asked about this.
    expect(askedOfText(opinionsOf(clear, []), DEPTH_VOCABULARY)).toHaveLength(2);
    const otherwise = (by: number) => [at('depth three two', 0), at('depth two four', by)];
    // Its other answer has nothing against it.
    const decideOtherwise = (by: number) => decide(clear, otherwise(by), { head: clear });
    expect(decideOtherwise(rivalDistance)).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
    expect(decideOtherwise(rivalDistance - 0.1).words).toBe('depth two four');
    // The same size in other words is no contest, nor is a contest of one order by another.
    const reworded = [at('depth twenty four', 0), at('depth two four', rivalDistance)];
    expect(decide(clear, reworded, { head: clear }).words).toBe('depth two four');
    const orders = [at('pin placed', 2), at('say again', 2 + needlessGap - 1)];
    const other = [at('say again', 0), at('pin placed', rivalDistance)];
    expect(decide(orders, other, { head: orders }).words).toBe('pin placed');
  });

  it('[VOI86] puts no order first by itself, as it may a size, which is read back', () => {
    const puts = (words: string, other: string) => [at(words, 0), at(other, mostHeadDistance)];
    const orders = [at('pin placed', 2), at('say again', 6)];
    expect(decide(orders, puts('say again', 'pin placed'))).toMatchObject({
      words: null,
      candidates: ['say again', 'pin placed'],
    });
    // Nor does its word make up for what the network's own lead lacks.
    expect(decide(orders, puts('pin placed', 'say again'))).toMatchObject({
      words: null,
      candidates: ['pin placed', 'say again'],
    });
    const lead = [at('pin placed', 2), at('say again', 2 + sureGap)];
    expect(decide(lead, puts('pin placed', 'say again')).words).toBe('pin placed');
    const sizes = [at('depth three two', 2), at('depth two four', 6)];
    const text = [at('depth two four', 0), at('depth three two', rivalDistance)];
    const head = puts('depth two four', 'depth three two');
    expect(decide(sizes, text, { head }).words).toBe('depth two four');
  });

  it('[VOI89] vouches for a phrase against a grammar that is not sure', () => {
    const clear = [at('depth two four', 2), at('depth three two', 2 + needlessGap + 1)];
    const unsure = { heard: 'depth three two', margin: rivalMarginOfVouched - 1 };
    const vouches = (by: number) => [at('depth two four', 0), at('depth three two', by)];
    // It is asked because of the grammar alone, and not where its word could change nothing.
    const asked = (margin: number) =>
      wordsOf(askedOfText(opinionsOf(clear, [], { ...unsure, margin }), DEPTH_VOCABULARY));
    expect(asked(unsure.margin)).toEqual(['depth two four', 'depth three two']);
    expect(asked(rivalMarginOfVouched)).toEqual([]);
    expect(asked(rivalMarginOfSize - 1)).toEqual([]);
    const both = { words: null, candidates: ['depth two four', 'depth three two'] };
    expect(decide(clear, [], unsure)).toMatchObject(both);
    expect(decide(clear, vouches(rivalDistance), unsure).words).toBe('depth two four');
    expect(decide(clear, vouches(rivalDistance - 0.1), unsure)).toMatchObject(both);
    // Of a phrase that it was not asked about it says nothing.
    expect(decide(clear, [at('depth two four', 0)], unsure)).toMatchObject(both);
    const sure = { ...unsure, margin: rivalMarginOfVouched };
    expect(decide(clear, vouches(rivalDistance), sure)).toMatchObject(both);
  });

  it('[VOI86] makes no order of talk, and takes nothing that the network hardly hears', () => {
    const text = [at('pin placed', 0), at('say again', mostDistance)];
    const talk = [at('pin placed', talkDistance + 1), at('say again', talkDistance + 30)];
    expect(decide(talk, text)).toEqual({ words: null, score: 0 });
    const far = [at('pin placed', sureDistance + 1), at('say again', talkDistance + 30)];
    expect(decide(far, text).words).toBeNull();
    // What it prefers may be talk to the network where something else is not: then it is asked about.
    const near = [at('say again', talkDistance - 15), at('pin placed', talkDistance + 1)];
    const both = { words: null, candidates: ['pin placed', 'say again'] };
    expect(decide(near, text)).toMatchObject(both);
    // Nor is what was hardly heard taken because something else was heard.
    const { leastShareOfSounds } = NETWORK_LIMITS;
    const faint = [
      { ...at('say again', 6), shareOfSounds: leastShareOfSounds },
      { ...at('pin placed', 7), shareOfSounds: leastShareOfSounds - 0.1 },
    ];
    expect(decide(faint, text)).toMatchObject(both);
  });

  it('[VOI87] is asked about the likeliest phrases only, and only where that can change anything', () => {
    const asked = (
      network: readonly PhraseAtDistance[],
      heard: string | null = null,
      ranked: readonly PhraseAtDistance[] = [],
      unsayable: readonly PhraseAtDistance[] = [],
    ) => {
      const others = { unsayable, ranked, ...(heard !== null && { heard }) };
      return wordsOf(askedOfText(opinionsOf(network, [], others), DEPTH_VOCABULARY));
    };
    expect(asked(close)).toEqual(['depth two four', 'depth three two']);
    // What is out of its reach costs work and changes nothing, unless the grammar heard it.
    const far = at('pin placed', 2 + reach + 1);
    expect(asked([...close, far])).toEqual(asked(close));
    expect(asked([...close, far], 'pin placed')).toEqual([...asked(close), 'pin placed']);
    expect(asked([])).toEqual([]);
    expect(asked([at('pin placed', talkDistance + 1)])).toEqual([]);
    const sure = [at('depth two four', 2), at('depth three two', 2 + needlessGap)];
    expect(asked(sure)).toEqual([]);
    // A card that says otherwise may be a stranger's.
    const other = [at('depth three two', 0.3), at('depth two four', 0.5)];
    expect(asked(sure, null, other)).toHaveLength(2);
    const five = at('depth two five', 1 + needlessGap);
    expect(asked(sure, null, [], [five])).toEqual([...asked(close), 'depth two five']);
  });

  it('[VOI87] is to write only what its head leaves within reach, two at least, and what another listener heard', () => {
    const asked = (words: string, distance: number, isNamed = false) => ({
      words,
      distance,
      isNamed,
    });
    const three = [
      asked('depth two four', 2),
      asked('depth three two', 9),
      asked('pin placed', 12),
    ];
    const head = (...far: readonly number[]) =>
      three.map(({ words }, index) => at(words, far[index] ?? 0));
    expect(askedOfWriting(three, head(0, 0, 0))).toHaveLength(3);
    expect(askedOfWriting(three, head(0, 5, reachOfWriting - 10))).toHaveLength(3);
    expect(askedOfWriting(three, head(0, 5, reachOfWriting - 9))).toEqual([
      'depth two four',
      'depth three two',
    ]);
    // The head can put another first; what it says counts up to its limit.
    expect(askedOfWriting(three, head(99, 99, 0))).toEqual([
      'pin placed',
      'depth two four',
      'depth three two',
    ]);
    // One alone tells nothing.
    const apart = [
      asked('depth two four', 2),
      asked('depth three two', 40),
      asked('pin placed', 41),
    ];
    expect(askedOfWriting(apart, head(0, 0, 0))).toEqual(['depth two four', 'depth three two']);
    const named = [...apart.slice(0, 2), asked('pin placed', 41, true)];
    expect(askedOfWriting(named, head(0, 0, 0))).toEqual(named.map(({ words }) => words));
  });

  it('[VOI88] asks about a size where one that may not be said now is likelier', () => {
    const clear = [at('depth two four', 12), at('depth three two', 60)];
    const five = (distance: number) => ({ unsayable: [at('depth two five', distance)] });
    expect(decide(clear, [], five(12)).words).toBe('depth two four');
    // What may not be said is never offered.
    const both = { words: null, candidates: ['depth two four', 'depth three two'] };
    expect(decide(clear, [], five(12 - unsayableLead))).toMatchObject(both);
    // The text listener may settle that too, or raise it by either of its answers.
    const hears = (words: string, other: string, by: number) => [at(words, 0), at(other, by)];
    const legal = hears('depth two four', 'depth two five', mostDistance);
    expect(decide(clear, legal, five(12 - unsayableLead)).words).toBe('depth two four');
    const shrugs = hears('depth two four', 'depth two five', 0);
    const raises = hears('depth two five', 'depth two four', mostHeadDistance);
    expect(decide(clear, shrugs, { ...five(20), head: raises })).toMatchObject(both);
    expect(decide(clear, shrugs, { ...five(20), head: shrugs }).words).toBe('depth two four');
  });

  it('[VOI88] takes no size that is far from what was said because grammar and a card name it', () => {
    const far = [at('depth two four', talkDistance + 1), at('depth three two', 90)];
    const named = {
      heard: 'depth two four',
      margin: 5,
      ranked: [at('depth two four', 0.3), at('depth three two', 0.7)],
    };
    expect(decide(far, [], named).words).toBe('depth two four');
    const five = { ...named, unsayable: [at('depth two five', 2)] };
    expect(decide(far, [], five).words).toBeNull();
  });

  it('[VOI88] thinks of every number word of the same kind, as far as it may not be said now', () => {
    const others = listOtherNumbers(['depth two four'], DEPTH_VOCABULARY);
    // Nine other digits for each of two.
    expect(new Set(others).size).toBe(18);
    expect(others).toContain('depth two five');
    expect(others).not.toContain('depth two four');
    expect(listOtherNumbers(['depth twenty four'], DEPTH_VOCABULARY)).toContain(
      'depth ninety four',
    );
    expect(listOtherNumbers(['say again'], DEPTH_VOCABULARY)).toEqual([]);
  });
});
