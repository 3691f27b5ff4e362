/** One sentence for each chart: what it shows, or that it can't say anything yet. */
import type { LearningCurve } from '../statistics/learning-curve';
import { chanceOutside, chanceRangeBeyond } from '../statistics/individuals';
import { LEAST_JUDGED } from './baseline';
import type { EwmaPart, IndividualsPart, RunPart } from './change-charts';
import { cases, minutes, tooFew } from './say';

/** With fewer cases since the last marked change no chart says anything; those with a baseline need more. */
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

export function individualsSentence(parts: readonly IndividualsPart[]): string {
  const last = parts.at(-1);
  if (!last || last.points.length < LEAST_JUDGED) return tooFew(last?.points.length ?? 0, LEAST_JUDGED); // prettier-ignore
  const range = `${minutes(last.lower)} to ${minutes(last.upper)}`;
  const judged = cases(last.points.length - last.baseline);
  return last.outside.length > 0
    ? `${last.outside.length} of the ${judged} after the baseline outside the limits (${range}); chance alone puts about ${oneIn(chanceOutside(last.baseline))} there.`
    : `Each of the ${judged} after the baseline lies within what chance explains (${range}).`;
}

export function rangeSentence(parts: readonly IndividualsPart[]): string {
  const last = parts.at(-1);
  if (!last || last.points.length < LEAST_JUDGED) return tooFew(last?.points.length ?? 0, LEAST_JUDGED); // prettier-ignore
  const limit = `×${last.ratioUpper.toFixed(2)}`;
  const judged = last.points.length - last.baseline;
  return last.ratiosOutside.length > 0
    ? `${last.ratiosOutside.length} of the ${judged} steps from one case to the next after the baseline beyond the limit (${limit}); chance alone puts about ${oneIn(chanceRangeBeyond(last.baseline))} there.`
    : `Of the ${judged} steps from one case to the next after the baseline none is larger than chance explains (${limit}).`;
}

/** "1 in 55": two digits, because limits from few cases are known no better. */
function oneIn(chance: number): string {
  return `1 in ${Number((1 / chance).toPrecision(2))}`;
}

export function ewmaSentence(parts: readonly EwmaPart[]): string {
  const last = parts.at(-1);
  if (!last || last.points.length < LEAST_JUDGED) return tooFew(last?.points.length ?? 0, LEAST_JUDGED); // prettier-ignore
  const now = last.smooth.at(-1) ?? NaN;
  const isOut = last.outside.includes(last.smooth.length - 1);
  const against = `${minutes(now)} against ${minutes(last.centre)} in the baseline`;
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
