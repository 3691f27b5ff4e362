/** Invented cases: the same seed gives the same, every one replays, and all say that they are demo. */
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { expect, test } from 'vitest';
import type { Entry } from '../../src/domain';
import { CaseTable, createRandom, digestCase, listChoices, lookBack } from '../../src/review';
import { CaseLog, describeBuiltIn, makeDemoCases, outlineOf } from '../../src/session';
import type { DemoOptions } from '../../src/session/demo';
import { HABITS, phaseFactor } from '../../src/session/demo/habits';

const firstAt = Date.UTC(2026, 0, 5, 7, 30);

function procedureOf(id: string): unknown {
  const card = describeBuiltIn(id);
  if (!card.ok) throw new Error(`${id} loads`);
  return card.value.data;
}
const procedure = procedureOf('reverse-shoulder-glenoid');
const whole = procedureOf('reverse-shoulder');

function play(change: Partial<DemoOptions> & { readonly seed: number; readonly count: number }) {
  const made = makeDemoCases({ procedure, firstAt, ...change });
  if (!made.ok) throw new Error('The operation loads');
  return [...made.value];
}
const make = (seed: number, count: number) =>
  play({ seed, count, shift: { phase: 'reaming', fromCase: 3, factor: 3 } });

function digestsOf(cases: readonly (readonly Entry[])[], of: unknown = procedure) {
  const outline = outlineOf(of);
  if (!outline.ok) throw new Error('The operation has an outline');
  return cases.flatMap((entries) => digestCase(entries, outline.value) ?? []);
}
const count = (cases: readonly (readonly Entry[])[], type: Entry['type']) =>
  cases.map((entries) => entries.filter((entry) => entry.type === type).length);

test('[REV48] the same seed gives the same cases, another seed others', () => {
  expect(make(1, 2)).toEqual(make(1, 2));
  expect(JSON.stringify(make(2, 1))).not.toBe(JSON.stringify(make(1, 1)));
});

test(
  '[REV48] every case is marked as demo, closed, and replays through the machine',
  { timeout: 30_000 },
  () => {
    const cases = make(3, 12);
    for (const entries of cases) {
      const [opening] = entries;
      expect(opening?.type === 'case.opened' && opening.data.mode).toBe('demo');
      expect(entries.at(-1)?.type).toBe('case.closed');
      expect(CaseLog.rebuild(entries, { addressPhrase: '', lapseMs: 0 }).ok).toBe(true);
      expect(
        entries.every(
          (entry, index) => index === 0 || entry.mono >= (entries[index - 1]?.mono ?? 0),
        ),
      ).toBe(true);
    }
    expect(new Set(cases.map(([first]) => first?.caseId)).size).toBe(12);
  },
);

test('[REV48] phases vary, loops occur, and a shift is really there', { timeout: 30_000 }, () => {
  const reaming = digestsOf(make(3, 24)).map(({ phases }) =>
    phases.find(({ phase }) => phase === 'reaming'),
  );
  const minutes = (from: number, to: number) => {
    const some = reaming.slice(from, to).map((phase) => (phase?.passesMs[0] ?? 0) / 60_000);
    return some.reduce((sum, value) => sum + value, 0) / some.length;
  };
  expect(minutes(3, 24)).toBeGreaterThan(1.8 * minutes(0, 3));
  expect(reaming.some((phase) => (phase?.passesMs.length ?? 0) > 1)).toBe(true);
});

// Kolmogorov's limit of the distance at 1 in 1000, 1.949 / sqrt(n), from memory. The habits are given, not guessed.
test('[REV48] how long a phase takes is lognormal with the spread that the habits say; outliers stand out of it', () => {
  const random = createRandom(11);
  const n = 3000;
  const draw = (delayChance: number) =>
    Array.from({ length: n }, () =>
      phaseFactor('any', 9999, 0, null, { ...HABITS, learning: 0, delayChance }, random),
    );
  const logs = draw(0).map(Math.log).sort((a, b) => a - b); // prettier-ignore
  const distance = Math.max(
    ...logs.map((log, place) => Math.abs(normalCdf(log, 0, HABITS.phaseSigma) - (place + 0.5) / n)),
  );
  expect(distance).toBeLessThan(1.949 / Math.sqrt(n));
  // Four standard deviations of the habit: once in 30 000 phases, and no shift of the middle.
  const far = Math.exp(4 * HABITS.phaseSigma);
  expect(draw(0).filter((factor) => factor > far).length).toBeLessThanOrEqual(1);
  const delayed = draw(HABITS.delayChance).filter((factor) => factor > far).length;
  // 3 in 100 of 3000 are 90, standard deviation 9; nine in ten of those delayed lie beyond.
  expect(delayed).toBeGreaterThan(45);
  expect(delayed).toBeLessThan(126);
});

test('[REV48] a phase is missing where the team left it out, and is then no measure', () => {
  const habits = { missingChance: 1, abandonedChance: 0, alternativeChance: 0 };
  const cases = play({ seed: 21, count: 6, habits });
  for (const { phases } of digestsOf(cases))
    expect(phases.some(({ ending, isWhole }) => ending === 'cut' && !isWhole)).toBe(true);
  const skipped = (entries: readonly Entry[]) =>
    entries.some(({ type, data }) => type === 'step.skipped' && data.reason === 'Not needed today');
  expect(cases.map(skipped)).toEqual(cases.map(() => true));
  expect(play({ seed: 21, count: 6, habits: { ...habits, missingChance: 0 } }).some(skipped)).toBe(
    false,
  );
});

test('[REV48] the clock is held as often as the habits say: in a case once, with chance 1 in each, with chance 0 in none', () => {
  const usual = { missingChance: 0, abandonedChance: 0, endGroupChance: 0 };
  const held = (holdChance: number) =>
    count(play({ seed: 31, count: 6, habits: { ...usual, holdChance } }), 'clock.held');
  expect(held(1)).toEqual([1, 1, 1, 1, 1, 1]);
  expect(held(0)).toEqual([0, 0, 0, 0, 0, 0]);
});

test('[REV48] hold points that ask for sizes are passed as often as the habits say', () => {
  const passed = (overrideChance: number) =>
    count(play({ seed: 41, count: 4, habits: { missingChance: 0, overrideChance } }), 'override.granted'); // prettier-ignore
  const sum = (counts: readonly number[]) => counts.reduce((all, one) => all + one, 0);
  expect(Math.min(...passed(1))).toBeGreaterThan(0);
  expect(sum(passed(0))).toBe(0);
});

test('[REV48] with and without voice cards, and by alternative, the look back has something to show', () => {
  const small = digestsOf(play({ seed: 51, count: 24 }));
  const withCard = small.filter(({ hasVoiceCards }) => hasVoiceCards).length;
  // Half of 24 are 12; four standard deviations of a binomial are 9.8.
  expect(Math.abs(withCard - 12)).toBeLessThanOrEqual(9);
  const large = digestsOf(play({ seed: 52, count: 8, procedure: whole, habits: { alternativeChance: 1 } }), whole); // prettier-ignore
  const table = CaseTable.of([...small, ...large]);
  const { alternatives } = listChoices(table);
  expect(alternatives.length).toBeGreaterThan(1);
  const filter = { mode: 'demo', procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null } as const; // prettier-ignore
  const countOf = (change: object) =>
    lookBack(table, { filter: { ...filter, ...change }, timesOf: null, key: null, hours: { fromMin: 480, hours: 8 } }).caseCount; // prettier-ignore
  for (const alternative of alternatives) expect(countOf({ alternative })).toBeGreaterThan(0);
  expect(countOf({ cards: 'with' }) + countOf({ cards: 'without' })).toBe(32);
});

test('[REV42] sizes in the look back go by their labels, those of each screw too', () => {
  const outline = outlineOf(procedure);
  if (!outline.ok) throw new Error('The flagship loads');
  const ids = new Set<string>(outline.value.captures.map(({ id }) => id));
  const said = digestsOf(make(1, 3)).flatMap(({ speech }) => speech);
  expect(ids.has('screw-1-length')).toBe(true);
  expect(said.length).toBeGreaterThan(0);
  expect(said.filter(({ phrase }) => ids.has(phrase))).toEqual([]);
});

test(
  '[REV71] cases whose packs must agree scan them; none passes that hold point by hand',
  { timeout: 60_000 },
  () => {
    const cases = play({
      seed: 5,
      count: 8,
      procedure: whole,
      habits: { alternativeChance: 0, missingChance: 0 },
    });
    const finished = cases.filter((entries) => entries.some(({ type, data }) => type === 'case.closed' && data.outcome === 'finished')); // prettier-ignore
    expect(finished.length).toBeGreaterThan(4);
    for (const entries of finished) {
      const byHand = entries.filter(({ type, data }) => type === 'override.granted' && data.holdPoint === 'deep-closure'); // prettier-ignore
      expect(byHand).toEqual([]);
      const log = CaseLog.rebuild(entries, { addressPhrase: '', lapseMs: 0 });
      if (!log.ok) throw new Error(log.error.code);
      const { implants } = log.value.view(0, null);
      expect(implants.packs.length).toBeGreaterThan(3);
      expect([implants.notScanned, implants.notConfirmed, implants.unsettled]).toEqual([
        [],
        [],
        [],
      ]);
      expect(implants.packs.flatMap(({ findings }) => findings)).toEqual([]);
    }
  },
);
