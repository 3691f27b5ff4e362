import { describe, expect, it } from 'vitest';
import {
  askedOfText, decideFromAll, listOtherNumbers, NETWORK_LIMITS, NO_TEXT, TEXT_LIMITS, withText,
} from '../../src/voice'; // prettier-ignore
import type { PhraseAtDistance } from '../../src/voice';
import { DEPTH_VOCABULARY } from './depth-vocabulary';

const at = (words: string, distance: number): PhraseAtDistance => ({ words, distance });
const silent = { words: null, margin: () => -Infinity, unexplainedMs: 0, speechMs: 900 };

function decide(
  network: readonly PhraseAtDistance[],
  text: readonly PhraseAtDistance[],
  unsayable: readonly PhraseAtDistance[] = [],
  head: readonly PhraseAtDistance[] = text,
) {
  const others = { head, knows: () => true, secondVoice: () => 0 };
  return decideFromAll(
    { grammar: silent, ranked: [], network, text, unsayable, ...others },
    DEPTH_VOCABULARY,
  );
}

const { sureGap, talkDistance, sureDistance, unsayableLead } = NETWORK_LIMITS;
const { needlessGap, reach, rivalDistanceOfSize, mostDistance, mostHeadDistance, perTextUnit } =
  TEXT_LIMITS;

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

  it('[VOI86] contests a size that it finds far less likely, however sure the network is', () => {
    const clear = [at('depth two four', 2), at('depth three two', 39)];
    const otherwise = (by: number) => [at('depth three two', 0), at('depth two four', by)];
    expect(decide(clear, otherwise(rivalDistanceOfSize))).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
    expect(decide(clear, otherwise(rivalDistanceOfSize - 0.1)).words).toBe('depth two four');
    // The same size in other words is no contest, nor is a contest of one order by another.
    const reworded = [at('depth twenty four', 0), at('depth two four', rivalDistanceOfSize)];
    expect(decide(clear, reworded).words).toBe('depth two four');
    const orders = [at('pin placed', 2), at('say again', 39)];
    const other = [at('say again', 0), at('pin placed', rivalDistanceOfSize)];
    expect(decide(orders, other).words).toBe('pin placed');
  });

  it('[VOI86] makes no order of talk, and takes nothing that the network hardly hears', () => {
    const text = [at('pin placed', 0), at('say again', mostDistance)];
    const talk = [at('pin placed', talkDistance + 1), at('say again', talkDistance + 30)];
    expect(decide(talk, text)).toEqual({ words: null, score: 0 });
    const far = [at('pin placed', sureDistance + 1), at('say again', talkDistance + 30)];
    expect(decide(far, text).words).toBeNull();
    // What it prefers may be talk to the network where something else is not: then it is asked about.
    const near = [at('say again', talkDistance - 15), at('pin placed', talkDistance + 1)];
    expect(decide(near, text)).toMatchObject({
      words: null,
      candidates: ['pin placed', 'say again'],
    });
  });

  it('[VOI87] is asked about the likeliest phrases only, and only where that can change anything', () => {
    const asked = (
      network: readonly PhraseAtDistance[],
      heard: string | null = null,
      ranked: readonly PhraseAtDistance[] = [],
      unsayable: readonly PhraseAtDistance[] = [],
    ) => {
      const grammar = { ...silent, words: heard };
      return askedOfText({ grammar, network, ranked, unsayable }, DEPTH_VOCABULARY);
    };
    expect(asked(close)).toEqual(['depth two four', 'depth three two']);
    expect(asked(close, 'say again')).toEqual(['depth two four', 'depth three two', 'say again']);
    // What is out of its reach costs work and changes nothing.
    const far = at('pin placed', 2 + reach + 1);
    expect(asked([...close, far])).toEqual(asked(close));
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

  it('[VOI88] asks about a size where one that may not be said now is likelier', () => {
    const clear = [at('depth two four', 12), at('depth three two', 60)];
    const five = (distance: number) => [at('depth two five', distance)];
    expect(decide(clear, [], five(12)).words).toBe('depth two four');
    // What may not be said is never offered.
    expect(decide(clear, [], five(12 - unsayableLead))).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
    // The text listener may settle that too, or raise it.
    const hears = (words: string, other: string) => [at(words, 0), at(other, mostDistance)];
    const legal = hears('depth two four', 'depth two five');
    expect(decide(clear, legal, five(12 - unsayableLead)).words).toBe('depth two four');
    const illegal = hears('depth two five', 'depth two four');
    expect(decide(clear, illegal, five(20)).words).toBeNull();
  });

  it('[VOI88] thinks of every number word of the same kind, as far as it may not be said now', () => {
    const others = listOtherNumbers(['depth two four', 'pin placed'], DEPTH_VOCABULARY);
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
