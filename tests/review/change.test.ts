/** Is it changing: sentences that dare to say nothing, splits, and what the CUSUM's design finds. */
import { describe, expect, test } from 'vitest';
import { chartChange } from '../../src/review';
import type { SeriesPoint } from '../../src/review';
import { designCusum } from '../../src/review/many/change';
import { createRandom } from '../../src/review/statistics/random';
import { averageRunLength } from '../../src/review/statistics/run-length';

const series = (minutes: readonly number[]): readonly SeriesPoint[] =>
  minutes.map((value, index) => ({
    caseId: `c${index}` as never,
    at: index * 1000,
    number: index + 1,
    minutes: value,
  }));

/** Spread on log scale of a published series of durations: navigated shoulder, 77.3 ± 11.8 min (PMID 31648783). */
const PUBLISHED_SIGMA = 0.1518;

/** So many that the shares below have a standard error of about 0.01 and 0.04. */
const SERIES = 600;

function draw(count: number, sigma: number, random: ReturnType<typeof createRandom>, factor = 1) {
  return Array.from({ length: count }, () => 20 * factor * Math.exp(sigma * random.normal()));
}

describe('sentences', () => {
  test('[REV44] with few cases every chart says that nothing can be said yet', () => {
    const { run, individuals, cusum, ewma, learning } = chartChange(series([20, 22, 19]));
    for (const { sentence } of [run, individuals, cusum, ewma, learning]) {
      expect(sentence).toBe('Nothing can be said yet: 3 cases so far, 12 are needed.');
    }
    expect(learning.band).toEqual([]);
  });

  test('[REV44] a steady series shows no change, a step shows in every chart', () => {
    const wave = (index: number) => 20 * Math.exp(0.1 * Math.sin(index * 2.1));
    const steady = chartChange(series(Array.from({ length: 60 }, (_, index) => wave(index))));
    expect(steady.run.sentence).toMatch(/^No sign of change/);
    expect(steady.cusum.sentence).toBe('No lasting change has added up.');
    expect(steady.individuals.sentence).toMatch(/^Every case lies within/);
    expect(steady.learning.sentence).toMatch(/^No learning can be told/);
    const step = chartChange(
      series(Array.from({ length: 60 }, (_, index) => wave(index) * (index < 40 ? 1 : 1.6))),
    );
    expect(step.run.sentence).toMatch(/^Something has changed/);
    expect(step.cusum.sentence).toMatch(/longer times had added up by case 4\d/);
    expect(step.ewma.sentence).toMatch(/has left its limits/);
  });

  test('[REV44] after a marked change each part is judged against itself', () => {
    const wave = (index: number) => 20 * Math.exp(0.1 * Math.sin(index * 2.1));
    const values = Array.from({ length: 80 }, (_, index) => wave(index) * (index < 40 ? 1 : 1.6));
    const split = chartChange(series(values), [{ at: 40_000, label: 'new tray' }]);
    expect(split.run.sentence).toMatch(/^No sign of change/);
    expect(split.cusum.sentence).toBe('No lasting change has added up.');
    expect(split.individuals.parts.map(({ label, points }) => [label, points.length])).toEqual([
      [null, 40],
      ['new tray', 40],
    ]);
    const [before, after] = split.individuals.parts;
    expect((after?.centre ?? NaN) / (before?.centre ?? NaN)).toBeCloseTo(1.6, 1);
  });
});

describe('the design of the CUSUM', () => {
  test('[REV45] a shift of 15 % is found within 20 cases in 90 of 100 series, with under one false signal in 100 cases', () => {
    const random = createRandom(45);
    let found = 0;
    let falseSignals = 0;
    for (let run = 0; run < SERIES; run += 1) {
      const before = draw(160, PUBLISHED_SIGMA, random);
      const after = draw(20, PUBLISHED_SIGMA, random, 1.15);
      const [part] = chartChange(series([...before, ...after])).cusum.parts;
      const signals = part?.signals ?? [];
      // The first sixty are the baseline; the next hundred are in control.
      falseSignals += signals.filter(({ place }) => place >= 60 && place < 160).length;
      if (signals.some(({ place, side }) => place >= 160 && side === 'high')) found += 1;
    }
    expect(found / SERIES).toBeGreaterThanOrEqual(0.9);
    // Each series has a hundred cases in control.
    expect(falseSignals / SERIES).toBeLessThan(1);
  });

  test.each([0.1, PUBLISHED_SIGMA, 0.2384, 0.4])(
    '[REV45] at a spread of %f a false signal comes about every 180 cases, by the Markov chain',
    (sigma) => {
      // Brook & Evans' chain, itself held against published run lengths in control-charts.test.ts.
      const { k, h } = designCusum(sigma);
      expect(averageRunLength(k, h)).toBeGreaterThan(170);
      expect(averageRunLength(k, h)).toBeLessThan(195);
    },
  );
});
