/** One sentence for each chart: what it shows, or that it can't say anything yet. */
import type { LearningCurve } from '../statistics/learning-curve';
import type { EwmaPart, IndividualsPart, PartChart, RunPart } from './change-charts';
import { cases, minutes, tooFew } from './say';

/** With fewer cases since the last marked change no chart says anything. */
export const LEAST = 12;

export function runSentence(parts: readonly RunPart[]): string {
  const last = parts.at(-1);
  if (!last || last.rules.useful < LEAST) return tooFew(last?.points.length ?? 0, LEAST);
  const { rules } = last;
  const signs = [
    ...(rules.isLongRun
      ? [
          `${rules.longestRun} cases in a row on one side of the median (chance gives up to ${rules.longestRunLimit})`,
        ]
      : []),
    ...(rules.isFewCrossings
      ? [
          `the median is crossed ${rules.crossings} times (chance gives ${rules.crossingsLimit} or more)`,
        ]
      : []),
  ];
  return signs.length > 0
    ? `Something has changed: ${signs.join(', and ')}.`
    : `No sign of change: ${rules.useful} cases around a median of ${minutes(rules.median)}, as chance would have it.`;
}

export function individualsSentence(parts: readonly PartChart[]): string {
  const last = parts.at(-1);
  if (!last || last.points.length < LEAST) return tooFew(last?.points.length ?? 0, LEAST);
  const range = `${minutes(last.lower)} to ${minutes(last.upper)}`;
  return last.outside.length > 0
    ? `${last.outside.length} of ${cases(last.points.length)} outside the limits (${range}); chance alone puts about 1 in 370 there.`
    : `Every case lies within what chance explains (${range}).`;
}

/** Of normal values a moving range lies beyond D4 mean ranges once in 109: both tails beyond 2.606 sigmas. */
export function rangeSentence(parts: readonly IndividualsPart[]): string {
  const last = parts.at(-1);
  if (!last || last.points.length < LEAST) return tooFew(last?.points.length ?? 0, LEAST);
  const limit = `×${last.ratioUpper.toFixed(2)}`;
  return last.ratiosOutside.length > 0
    ? `${last.ratiosOutside.length} of ${last.points.length - 1} steps from one case to the next beyond the limit (${limit}); chance alone puts about 1 in 110 there.`
    : `From one case to the next no step is larger than chance explains (${limit}).`;
}

export function ewmaSentence(parts: readonly EwmaPart[]): string {
  const last = parts.at(-1);
  if (!last || last.points.length < LEAST) return tooFew(last?.points.length ?? 0, LEAST);
  const now = last.smooth.at(-1) ?? NaN;
  const isOut = last.outside.includes(last.smooth.length - 1);
  const against = `${minutes(now)} against ${minutes(last.centre)} at first`;
  return isOut
    ? `The smoothed time has left its limits: ${against}.`
    : `The smoothed time is within its limits: ${against}.`;
}

export function learningSentence(curve: LearningCurve | null, count: number): string {
  if (!curve || count < LEAST) return tooFew(count, LEAST);
  const low = percent(1 - curve.perDoublingHigh);
  const high = percent(1 - curve.perDoublingLow);
  if (!curve.isClear) {
    return `No learning can be told from chance: a change per doubling of cases between ${low} and ${high} less time.`;
  }
  return curve.slope < 0
    ? `Each doubling of cases takes ${percent(1 - curve.perDoubling)} less time (95 % interval ${low} to ${high}).`
    : `Each doubling of cases takes ${percent(curve.perDoubling - 1)} more time (95 % interval ${percent(curve.perDoublingLow - 1)} to ${percent(curve.perDoublingHigh - 1)}).`;
}

function percent(share: number): string {
  return `${(share * 100).toFixed(0)} %`;
}
