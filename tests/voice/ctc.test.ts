import { fc, test } from '@fast-check/vitest';
import { describe, expect, it } from 'vitest';
import { CtcScorer } from '../../src/voice';

/** All paths one by one, collapsed by the rule of Graves et al. 2006: repeats once, blanks away. */
function byAllPaths(rows: readonly (readonly number[])[], targets: readonly number[]): number {
  const classes = rows[0]?.length ?? 0;
  let sum = 0;
  const walk = (step: number, path: readonly number[], p: number): void => {
    if (step === rows.length) {
      const said = path.filter((k, at) => k !== 0 && k !== path[at - 1]);
      if (said.join() === targets.join()) sum += p;
      return;
    }
    for (let k = 0; k < classes; k += 1) walk(step + 1, [...path, k], p * (rows[step]?.[k] ?? 0));
  };
  walk(0, [], 1);
  return sum;
}

/** The same for paths that begin by saying it, whatever comes after. */
function byAllBeginnings(rows: readonly (readonly number[])[], targets: readonly number[]): number {
  const classes = rows[0]?.length ?? 0;
  const continued = rows.length === 0 ? [] : listRows(classes, rows.length);
  return continued
    .filter((said) => said.slice(0, targets.length).join() === targets.join())
    .reduce((sum, said) => sum + byAllPaths(rows, said), 0);
}

/** Every row of targets that is no longer than this. */
function listRows(classes: number, longest: number): number[][] {
  if (longest === 0) return [[]];
  const shorter = listRows(classes, longest - 1);
  const full = shorter.filter(({ length }) => length === longest - 1);
  const targets = Array.from({ length: classes - 1 }, (_, k) => k + 1);
  return [...shorter, ...full.flatMap((row) => targets.map((k) => [...row, k]))];
}

function scorerOf(rows: readonly (readonly number[])[]): CtcScorer {
  const data = Float32Array.from(rows.flat(), Math.log);
  return new CtcScorer({ data, steps: rows.length, classes: rows[0]?.length ?? 0 });
}

describe('the likelihood of a row of targets', () => {
  const row = fc
    .array(fc.double({ min: 0.05, max: 1, noNaN: true }), { minLength: 3, maxLength: 3 })
    .map((xs) => xs.map((x) => x / xs.reduce((a, b) => a + b)));

  test.prop([
    fc.array(row, { minLength: 1, maxLength: 6 }),
    fc.array(fc.constantFrom(1, 2), { maxLength: 4 }),
  ])('[VOI62] is the sum over every path that says it', (rows, targets) => {
    const expected = byAllPaths(rows, targets);
    const found = scorerOf(rows).logLikelihood(targets);
    if (expected === 0) expect(found).toBe(-Infinity);
    else expect(found).toBeCloseTo(Math.log(expected), 4);
  });

  test.prop([
    fc.array(row, { minLength: 1, maxLength: 4 }),
    fc.array(fc.constantFrom(1, 2), { maxLength: 3 }),
  ])('[VOI107] of a beginning is the sum over all that begin with it', (rows, targets) => {
    const expected = byAllBeginnings(rows, targets);
    const found = scorerOf(rows).logBeginning(targets);
    if (expected === 0) expect(found).toBe(-Infinity);
    else expect(found).toBeCloseTo(Math.log(expected), 4);
  });

  it('[VOI62] is nothing where there is too little time: a repeat needs a blank between', () => {
    const rows = [
      [0.2, 0.8],
      [0.2, 0.8],
    ];
    expect(scorerOf(rows).logLikelihood([1, 1])).toBe(-Infinity);
    expect(scorerOf([...rows, [0.5, 0.5]]).logLikelihood([1, 1])).toBeCloseTo(
      Math.log(0.8 * 0.2 * 0.5),
      5,
    );
  });

  it('[VOI78] counts what the likeliest path names: a repeat once, unless a blank stands between', () => {
    const sure = (k: number) => [0, 1, 2].map((other) => (other === k ? 0.9 : 0.05));
    expect(scorerOf([0, 1, 1, 0, 1, 2, 2].map(sure)).named).toBe(3);
    expect(scorerOf([0, 0].map(sure)).named).toBe(0);
  });
});
