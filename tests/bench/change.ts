/**
 * `npm run bench -- change`: what the CUSUM of the review finds and how often it is wrong,
 * by the spread of the phase and the number of cases before the change, and what a reader
 * is told of steady and of changed series, through the review's own code; beside it the best that any two-sided CUSUM reaches that knows centre and
 * spread exactly and may be wrong once in 100 cases. docs/charts.md has the figures.
 */
import { chartChange } from '../../src/review';
import type { ChangeCharts } from '../../src/review';
import { designCusum, REFERENCE } from '../../src/review/many/cusum-part';
import { createRandom } from '../../src/review/statistics/random';
import type { Random } from '../../src/review/statistics/random';
import { averageRunLength } from '../../src/review/statistics/run-length';
import { chartCusum } from '../../src/review/statistics/cusum';

const SERIES = 3000;
const READINGS = 1500;
const SHIFT = Math.log(1.15);
const IN_CONTROL = 100;
const WITHIN = 20;

interface Figures {
  /** Share of series in which the shift gave a signal to the right side within 20 cases. */
  readonly found: number;
  /** Signals in 100 in-control cases. */
  readonly false: number;
}

/** `signalsOf` gives places and sides of signals; the shift begins at `from + 100`. */
function tryDesign(
  from: number,
  signalsOf: (random: Random) => readonly { readonly place: number; readonly side: string }[],
): Figures {
  const random = createRandom(45);
  const shiftAt = from + IN_CONTROL;
  let found = 0;
  let wrong = 0;
  for (let series = 0; series < SERIES; series += 1) {
    const signals = signalsOf(random);
    wrong += signals.filter(({ place }) => place >= from && place < shiftAt).length;
    if (signals.some(({ place, side }) => place >= shiftAt && side === 'high')) found += 1;
  }
  return { found: round(found / SERIES), false: round(wrong / SERIES) };
}

/** The chart as the review makes it, with so many steady cases before the shift. */
function asBuilt(sigma: number, before: number): Figures {
  const random = createRandom(45);
  let found = 0;
  let wrong = 0;
  for (let series = 0; series < SERIES; series += 1) {
    const [part] = chartLogs(logs(random, before, sigma)).cusum.parts;
    const signals = part?.signals ?? [];
    wrong += signals.filter(({ place }) => place < before).length;
    if (signals.some(({ place, side }) => place >= before && side === 'high')) found += 1;
  }
  const judged = SERIES * (before - REFERENCE);
  return { found: round(found / SERIES), false: round((100 * wrong) / judged) };
}

function chartLogs(values: readonly number[]): ChangeCharts {
  return chartChange(
    values.map((log, index) => ({
      caseId: `c${index}` as never,
      at: index,
      number: index + 1,
      minutes: 20 * Math.exp(log),
    })),
  );
}

/** What a reader of the chart is told: shares of series by kind of sentence. */
interface Told {
  readonly lasting: number;
  readonly single: number;
  readonly old: number;
  readonly ewmaOut: number;
  readonly runSign: number;
  readonly anyOutside: number;
}

/** Readings of so many steady cases and, where given, cases after a shift of 15 %. */
function told(sigma: number, steady: number, after = 0): Told {
  const random = createRandom(7);
  const readings = Array.from({ length: READINGS }, () =>
    chartLogs(logs(random, steady, sigma, after)),
  );
  const share = (is: (charts: ChangeCharts) => boolean) =>
    round(readings.filter(is).length / READINGS);
  return {
    lasting: share(({ cusum }) => cusum.sentence.startsWith('A lasting change')),
    single: share(({ cusum }) => cusum.sentence.includes('One such signal')),
    old: share(({ cusum }) => cusum.sentence.startsWith('Nothing new')),
    ewmaOut: share(({ ewma }) => ewma.sentence.includes('has left')),
    runSign: share(({ run }) => run.sentence.startsWith('Something')),
    anyOutside: share(({ individuals }) => individuals.sentence.includes('outside')),
  };
}

/** A CUSUM with this design that knows centre and spread exactly. */
function knowing(sigma: number, design: { readonly k: number; readonly h: number }): Figures {
  return tryDesign(0, (random) => {
    const scaled = logs(random, IN_CONTROL, sigma).map((log) => log / sigma);
    return chartCusum(scaled, { target: 0, ...design, restarts: true }).signals;
  });
}

/** Logarithms of durations: so many in control, then some after the shift. */
function logs(random: Random, inControl: number, sigma: number, after = WITHIN): readonly number[] {
  return Array.from(
    { length: inControl + after },
    (_, index) => sigma * random.normal() + (index < inControl ? 0 : SHIFT),
  );
}

/** The allowance that finds most, each with the limit at which it is wrong once in 100 cases. */
function best(sigma: number): Figures & { readonly allowance: number; readonly limit: number } {
  const tried = [0.25, 0.3, 0.35, 0.4, 0.5].map((allowance) => {
    const k = (allowance * SHIFT) / sigma;
    let low = 1;
    let high = 12;
    for (let halving = 0; halving < 14; halving += 1) {
      const middle = (low + high) / 2;
      if (averageRunLength(k, middle) < IN_CONTROL) low = middle;
      else high = middle;
    }
    return { allowance, limit: round(high), ...knowing(sigma, { k, h: high }) };
  });
  const [first, ...others] = tried;
  if (!first) throw new Error('nothing was tried');
  return others.reduce((top, it) => (it.found > top.found ? it : top), first);
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}

export function benchChange(): readonly object[] {
  return [
    ...[0.1, 0.15, 0.18, 0.2, 0.22, 0.24].map((sigma) => ({
      sigma,
      design: designCusum(sigma),
      asBuilt: Object.fromEntries(
        [24, 36, 60, 100, 160].map((before) => [before, asBuilt(sigma, before)]),
      ),
      asDesignedKnownExactly: knowing(sigma, designCusum(sigma)),
      bestKnownExactly: best(sigma),
    })),
    ...[0.15, 0.24].map((sigma) => ({
      sigma,
      toldOfSteadySeries: Object.fromEntries(
        [12, 24, 36, 60, 90, 120, 180, 240, 300].map((steady) => [steady, told(sigma, steady)]),
      ),
      toldAfterShift: Object.fromEntries(
        [20, 30, 40, 60].map((after) => [after, told(sigma, 100, after)]),
      ),
    })),
  ];
}
