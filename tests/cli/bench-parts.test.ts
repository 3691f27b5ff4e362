/** A measurement that several processes share: its parts, their sum, and what none proves. */
import { describe, expect, it } from 'vitest';
import type { HeardPhrase } from '../../src/domain';
import { poissonUpper } from '../bench/held-out/proportion';
import { isInShard, readShard } from '../bench/held-out/shard';
import { TalkCounts } from '../bench/held-out/talk-counts';
import { mergeRows, Tallies } from '../bench/held-out/tally';
import type { Outcome } from '../bench/held-out/tally';

/** Ten commands as they might come out. */
const OUTCOMES: readonly Outcome['kind'][] = [
  'right', 'right', 'missed', 'asked', 'wrong', 'right', 'right', 'wrong', 'right', 'missed',
]; // prettier-ignore

function tally(places: readonly number[]): Tallies {
  const tallies = new Tallies();
  for (const place of places) {
    const kind = OUTCOMES[place] ?? 'missed';
    tallies.of(place < 7 ? 'quiet' : 'noise').add({ kind, wrongValue: null }, true, false);
  }
  return tallies;
}

function heard(words: string | null): HeardPhrase {
  return { words, score: 0, listener: 'both', speechMs: 0, decisionMs: 0 };
}

describe('a measurement in parts', () => {
  it('[TOO21] gives every piece to exactly one part', () => {
    const parts = ['1/3', '2/3', '3/3'].map(readShard);
    for (let place = 0; place < 10; place += 1)
      expect(parts.filter((part) => isInShard(part, place))).toHaveLength(1);
    expect(isInShard(readShard(undefined), 5)).toBe(true);
    for (const wrong of ['0/3', '4/3', '1', 'a/b', '1/0'])
      expect(() => readShard(wrong)).toThrow(`"${wrong}"`);
  });

  it('[TOO21] adds up to what one process counts, intervals included', () => {
    const places = OUTCOMES.map((_, place) => place);
    const parts = ['1/3', '2/3', '3/3'].map(
      (text) => tally(places.filter((place) => isInShard(readShard(text), place))).rows,
    );
    const merged = mergeRows(parts);
    expect(merged).toEqual(tally(places).rows);
    // Counted by hand in OUTCOMES.
    expect(merged['quiet']?.right).toMatchObject({ count: 4, of: 7 });
    expect(merged['noise']?.wrong).toMatchObject({ count: 1, of: 3 });
  });

  it('[TOO21] claims no read-back that was not simulated', () => {
    const [without, withOne] = [new Tallies(), new Tallies()];
    without.of('quiet').add({ kind: 'right', wrongValue: null }, true, null);
    withOne.of('quiet').add({ kind: 'right', wrongValue: null }, true, false);
    expect(without.rows['quiet']?.wrongValueConfirmed).toBeNull();
    expect(withOne.rows['quiet']?.wrongValueConfirmed).toMatchObject({ count: 0, of: 1 });
    const merged = mergeRows([without.rows, withOne.rows]);
    expect(merged['quiet']?.wrongValueConfirmed).toBeNull();
    expect(merged['quiet']?.right).toMatchObject({ count: 2, of: 2 });
  });

  it('[TOO21] adds up hours of talk and keeps what was taken from it', () => {
    const about = { said: 'call the ward', voice: 'one', room: 'clean' };
    const nothing = { both: [], grammar: [heard(null)], embedding: [] };
    const [first, second] = [new TalkCounts(), new TalkCounts()];
    first.add('human', 2, nothing, about);
    second.add('human', 1, { ...nothing, both: [heard('confirm')] }, about);
    const whole = new TalkCounts();
    for (const part of [first, second]) whole.addRows(part.rows);
    expect(whole.rows['human | both']).toMatchObject({
      hours: 3,
      perHour: 1 / 3,
      activations: [{ taken: 'confirm', said: 'call the ward' }],
    });
    expect(whole.rows['human | grammar']).toMatchObject({ hours: 3, activations: [] });
  });

  it('[TOO21] says how many events an hour few or none prove', () => {
    // Half of chi-square's 95 % quantile with 2n + 2 degrees of freedom, from memory of the
    // usual printed table: 5.991, 9.488, 12.592, 21.026 for 2, 4, 6 and 12 degrees.
    const table = [[0, 5.991], [1, 9.488], [2, 12.592], [5, 21.026]] as const; // prettier-ignore
    for (const [count, quantile] of table) expect(poissonUpper(count)).toBeCloseTo(quantile / 2, 3);
  });
});
