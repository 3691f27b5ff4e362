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
