/**
 * `npm run bench -- change`: what the CUSUM of the review finds and how often it is wrong,
 * by the spread of the phase and the length of its baseline, through the review's own
 * code; beside it the best that any two-sided CUSUM reaches that knows centre and
 * spread exactly and may be wrong once in 100 cases. docs/charts.md has the figures.
 */
import { chartChange } from '../../src/review';
import { designCusum } from '../../src/review/many/change';
import { createRandom } from '../../src/review/statistics/random';
import type { Random } from '../../src/review/statistics/random';
import { averageRunLength } from '../../src/review/statistics/run-length';
import { chartCusum } from '../../src/review/statistics/cusum';

const SERIES = 3000;
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

/** The chart as the review makes it. */
function asBuilt(sigma: number, baseline: number): Figures {
  return tryDesign(baseline, (random) => {
    const minutes = logs(random, baseline + IN_CONTROL, sigma).map((log) => 20 * Math.exp(log));
    const series = minutes.map((value, index) => ({
      caseId: `c${index}` as never,
      at: index,
      number: index + 1,
      minutes: value,
    }));
    return chartChange(series).cusum.parts[0]?.signals ?? [];
  });
}

/** A CUSUM with this design that knows centre and spread exactly. */
function knowing(sigma: number, design: { readonly k: number; readonly h: number }): Figures {
  return tryDesign(0, (random) => {
    const scaled = logs(random, IN_CONTROL, sigma).map((log) => log / sigma);
    return chartCusum(scaled, { target: 0, ...design, restarts: true }).signals;
  });
}

/** Logarithms of durations: so many in control, then 20 after the shift. */
function logs(random: Random, inControl: number, sigma: number): readonly number[] {
  return Array.from(
    { length: inControl + WITHIN },
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
  return [0.1, 0.15, 0.18, 0.2, 0.22, 0.24].map((sigma) => ({
    sigma,
    design: designCusum(sigma),
    asBuiltBaseline60: asBuilt(sigma, 60),
    asDesignedKnownExactly: knowing(sigma, designCusum(sigma)),
    bestKnownExactly: best(sigma),
  }));
}
