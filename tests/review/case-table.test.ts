/** The table of many cases, held against counting over the digests one by one. */
import { fc, test as property } from '@fast-check/vitest';
import { describe, expect, test } from 'vitest';
import type { CaseDigest } from '../../src/review';
import { CaseTable, filterCases, packTable, unpackTable } from '../../src/review';
import type { CaseFilter } from '../../src/review';
import { summariseCases } from '../../src/review/many/summary';
import { summariseTimes } from '../../src/review/many/times';
import { createRandom, digestOf, makeCase, makeTeam } from './synthetic-team';

const DEMO: CaseFilter = {
  mode: 'demo', procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null,
}; // prettier-ignore

/** Cases of an invented team, with holds, speech and what else a digest has. */
function makeDigests(seed: number, count: number): readonly CaseDigest[] {
  const random = createRandom(seed);
  const team = makeTeam(random);
  const some = (most: number) => Array.from({ length: random.below(most + 1) });
  return Array.from({ length: count }, (_, place): CaseDigest => {
    const digest = digestOf(makeCase(team, random), random.below(1000));
    return {
      ...digest,
      caseId: `c${place}` as never,
      side: random.below(2) === 0 ? 'left' : 'right',
      phases: digest.phases.map((phase) => ({ ...phase, isWhole: random.below(10) > 0 })),
      holds: some(2).map(() => ({ reason: `reason ${random.below(3)}`, ms: random.below(90_000) })),
      speech: some(3).map(() => ({ person: `p${random.below(2)}`, phrase: `w${random.below(4)}`, attempts: 3, first: random.below(4) })), // prettier-ignore
    };
  });
}

/** The middle of sorted values, or the mean of the two in the middle (definition R6 at one half). */
function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  const [low = NaN, high = NaN] = [sorted[Math.ceil(half) - 1], sorted[Math.floor(half)]];
  return (low + high) / 2;
}

describe('the table', () => {
  property.prop([fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 1, max: 40 })])(
    '[REV58] sums over the table are those of the digests one by one',
    (seed, count) => {
      const digests = makeDigests(seed, count);
      const left = digests.filter(({ side }) => side === 'left');
      const table = unpackTable(packTable(CaseTable.of(digests)));
      if (!table) throw new Error('the bytes were made by the table itself');
      const rows = filterCases(table, { ...DEMO, side: 'left' });
      const sum = { ...summariseCases(table, rows), ...summariseTimes(table, rows) };
      expect(rows.length).toBe(left.length);
      for (const { key, minutes, notCounted, loops } of sum.phases) {
        const phases = left.flatMap((it) => it.phases.filter(({ phase }) => `field/${phase}` === key)); // prettier-ignore
        const whole = phases.filter(({ isWhole }) => isWhole);
        expect(minutes?.count ?? 0).toBe(whole.length);
        expect(notCounted).toBe(phases.length - whole.length);
        expect(loops).toBe(phases.reduce((all, { passesMs }) => all + passesMs.length - 1, 0));
        if (minutes)
          expect(minutes.median).toBeCloseTo(medianOf(whole.map(({ totalMs }) => totalMs / 60_000)), 9); // prettier-ignore
      }
      const holds = left.flatMap((it) => it.holds);
      for (const { reason, count: times, minutes } of sum.holds) {
        const same = holds.filter((hold) => hold.reason === reason);
        expect(times).toBe(same.length);
        expect(minutes).toBeCloseTo(same.reduce((all, { ms }) => all + ms, 0) / 60_000, 9);
      }
      const said = left.flatMap((it) => it.speech);
      expect(sum.holds.reduce((all, { count: times }) => all + times, 0)).toBe(holds.length);
      expect(sum.speech.reduce((all, { first }) => all + first, 0)).toBe(
        said.reduce((all, { first }) => all + first, 0),
      );
    },
  );

  test('[REV58] a case that comes again takes the place of the one before', () => {
    const [one, two] = makeDigests(3, 2) as [CaseDigest, CaseDigest];
    const table = CaseTable.of([one, two, { ...one, side: 'right', totalMs: 60_000 }]);
    expect(table.count).toBe(2);
    const rows = filterCases(table, DEMO);
    expect(rows.map((row) => table.caseIds[row]).sort()).toEqual(['c0', 'c1']);
    expect(summariseTimes(table, rows).totalMinutes?.least).toBe(1);
  });

  test('[REV58] bytes that were cut short or are of something else give no table', () => {
    const { header, numbers } = packTable(CaseTable.of(makeDigests(4, 5)));
    expect(unpackTable({ header, numbers })?.count).toBe(5);
    expect(unpackTable({ header, numbers: numbers.slice(0, numbers.length - 8) })).toBeNull();
    expect(unpackTable({ header: header.slice(0, -9), numbers })).toBeNull();
    expect(unpackTable({ header: '{}', numbers })).toBeNull();
  });
});
