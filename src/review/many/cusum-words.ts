/**
 * What the CUSUM says. One signal may be chance and is told as that; a change is called
 * lasting only once a second signal has followed to the same side; a signal that is old
 * is told as old, with what the cases took before and since.
 */
import { median } from 'd3-array';
import type { CusumPart, CusumSignal } from './change-charts';
import { FALSE_SIGNAL_EVERY, REFERENCE } from './cusum-part';
import { cases, minutes, tooFew } from './say';

/** As many cases to measure as there are to be measured against. */
const LEAST_JUDGED = 2 * REFERENCE;
/** A signal is news for so many cases: a change that lasts gives the next one well before. */
const NEWS = 30;
/** Two signals to one side no farther apart belong together. In steady times that is so in about one reading of thirty. */
const TOGETHER = 40;
/** Where nine in ten changes of 15 % give a signal within 20 cases: up to this spread with so many cases before it (docs/charts.md). */
const SURE = [
  { sigma: 0.155, before: 60 },
  { sigma: 0.18, before: 160 },
] as const;

const SIDES = { high: 'longer', low: 'shorter' } as const;

export function cusumSentence(parts: readonly CusumPart[]): string {
  const last = parts.at(-1);
  const count = last?.points.length ?? 0;
  const signal = last?.signals.at(-1);
  if (!last || !signal) {
    return count < LEAST_JUDGED
      ? tooFew(count, LEAST_JUDGED)
      : `No lasting change has added up in the ${cases(count - REFERENCE)} after the first ${REFERENCE}.`;
  }
  const age = count - 1 - signal.place;
  const side = SIDES[signal.side];
  if (age >= NEWS) {
    return `Nothing new in the last ${cases(age)}. The last signal, to ${side} times, was at case ${numberAt(last, signal.place)}: ${levels(last, signal.place + 1)}.`;
  }
  const chain = chainOf(last.signals);
  const [first = signal] = chain;
  return chain.length > 1
    ? `A lasting change to ${side} times since about case ${numberAt(last, first.since)}: ${levels(last, first.since)}.`
    : `${side === 'longer' ? 'Longer' : 'Shorter'} times have added up by case ${numberAt(last, signal.place)}, ${ageText(age)}. One such signal comes by chance in about ${FALSE_SIGNAL_EVERY} steady cases: it counts when it comes again.`;
}

/** The design in figures, and what it can be trusted to find in a series like this one. */
export function cusumNote(parts: readonly CusumPart[]): string {
  const last = parts.at(-1);
  const design = `Design: on log scale, each case against all before it (self-starting), the first ${REFERENCE} as reference only`;
  if (!last || last.points.length < REFERENCE || !(last.sigma > 0)) return `${design}.`;
  const { sigma, allowance, limit, points } = last;
  const isSure = SURE.some((it) => sigma <= it.sigma && points.length >= it.before);
  const finds = isSure
    ? 'A change of 15 % gives a signal within 20 cases nine times in ten.'
    : `With ${cases(points.length)} and this spread a change of 15 % may take more than 20 cases to show.`;
  return `${design}; spread ${sigma.toFixed(2)}, allowance k ${allowance.toFixed(2)}, limit h ${limit.toFixed(1)} sigmas: about one signal by chance in ${FALSE_SIGNAL_EVERY} steady cases. ${finds}`;
}

/** The latest signals to one side that belong together, oldest first. */
function chainOf(signals: readonly CusumSignal[]): readonly CusumSignal[] {
  const broken = signals.findLastIndex((signal, index) => {
    const next = signals[index + 1];
    return next && (next.side !== signal.side || next.place - signal.place > TOGETHER);
  });
  return signals.slice(broken + 1);
}

function numberAt({ points }: CusumPart, place: number): number {
  return points[place]?.number ?? NaN;
}

function levels({ points }: CusumPart, from: number): string {
  const middle = (some: CusumPart['points']) => minutes(median(some, (it) => it.minutes) ?? NaN);
  return `${middle(points.slice(0, from))} before, ${middle(points.slice(from))} since (medians)`;
}

function ageText(age: number): string {
  return age === 0 ? 'the latest' : `${cases(age)} ago`;
}
