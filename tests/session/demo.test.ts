/** Invented cases: the same seed gives the same, every one replays, and all say that they are demo. */
import { expect, test } from 'vitest';
import { digestCase } from '../../src/review';
import { CaseLog, describeBuiltIn, makeDemoCases, outlineOf } from '../../src/session';

const card = describeBuiltIn('reverse-shoulder-glenoid');
if (!card.ok) throw new Error('The flagship loads');
const procedure = card.value.data;
const firstAt = Date.UTC(2026, 0, 5, 7, 30);
const make = (seed: number, count: number) => {
  const made = makeDemoCases({
    seed,
    count,
    procedure,
    firstAt,
    shift: { phase: 'reaming', fromCase: 3, factor: 3 },
  });
  if (!made.ok) throw new Error('The flagship loads');
  return [...made.value];
};

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
  const outline = outlineOf(procedure);
  if (!outline.ok) throw new Error('The flagship loads');
  const reaming = make(3, 24).map((entries) =>
    digestCase(entries, outline.value)?.phases.find(({ phase }) => phase === 'reaming'),
  );
  const minutes = (from: number, to: number) => {
    const some = reaming.slice(from, to).map((phase) => (phase?.passesMs[0] ?? 0) / 60_000);
    return some.reduce((sum, value) => sum + value, 0) / some.length;
  };
  expect(minutes(3, 24)).toBeGreaterThan(1.8 * minutes(0, 3));
  expect(reaming.some((phase) => (phase?.passesMs.length ?? 0) > 1)).toBe(true);
});

test('[REV42] sizes in the look back go by their labels, those of each screw too', () => {
  const outline = outlineOf(procedure);
  if (!outline.ok) throw new Error('The flagship loads');
  const ids = new Set<string>(outline.value.captures.map(({ id }) => id));
  const said = make(1, 3).flatMap((entries) => digestCase(entries, outline.value)?.speech ?? []);
  expect(ids.has('screw-1-length')).toBe(true);
  expect(said.length).toBeGreaterThan(0);
  expect(said.filter(({ phrase }) => ids.has(phrase))).toEqual([]);
});

test(
  '[REV71] cases whose packs must agree scan them; none passes that hold point by hand',
  { timeout: 60_000 },
  () => {
    const whole = describeBuiltIn('reverse-shoulder');
    if (!whole.ok) throw new Error('The whole operation loads');
    const made = makeDemoCases({ seed: 5, count: 8, procedure: whole.value.data, firstAt });
    if (!made.ok) throw new Error('The whole operation loads');
    const cases = [...made.value];
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
