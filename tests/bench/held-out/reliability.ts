/**
 * How right probabilities are: Brier score (G. W. Brier, Monthly Weather Review 78, 1950),
 * log loss, and a table of what came true where so much was promised, by ten equal bins.
 */
import { toShare } from './proportion';
import type { Share } from './proportion';

/** One promise, and what came of it. */
export interface Promised {
  readonly score: number;
  readonly isRight: boolean;
}

export interface Bin {
  /** Scores from here to a tenth above. */
  readonly from: number;
  /** Mean of the scores in it. */
  readonly promised: number;
  readonly right: Share;
}

export interface Reliability {
  readonly count: number;
  readonly right: Share;
  readonly brier: number;
  /** The same for everyone promised the mean: what a score that knows nothing would have. */
  readonly brierOfMean: number;
  /** Natural log. */
  readonly logLoss: number;
  readonly logLossOfMean: number;
  /** Mean over bins, by count, of how far promise and outcome lie apart. */
  readonly expectedError: number;
  readonly bins: readonly Bin[];
}

const BINS = 10;
/** A promise of 0 or 1 that does not come true would cost infinitely much. */
const SURE = 1e-6;

/** Null where nothing was promised. */
export function measureReliability(all: readonly Promised[]): Reliability | null {
  if (all.length === 0) return null;
  const share = mean(all.map(({ isRight }) => Number(isRight)));
  const bins = Array.from({ length: BINS }, (_, index) => index)
    .map((index) => all.filter(({ score }) => binOf(score) === index))
    .flatMap((some, index) => (some.length === 0 ? [] : [describeBin(index, some)]));
  const byMean = all.map(({ isRight }) => ({ score: share, isRight }));
  return {
    count: all.length,
    right: toShare(all.filter(({ isRight }) => isRight).length, all.length),
    brier: brierOf(all),
    brierOfMean: brierOf(byMean),
    logLoss: logLossOf(all),
    logLossOfMean: logLossOf(byMean),
    expectedError: round(
      bins.reduce(
        (sum, { promised, right }) => sum + right.of * Math.abs(promised - right.count / right.of),
        0,
      ) / all.length,
    ),
    bins,
  };
}

function describeBin(index: number, some: readonly Promised[]): Bin {
  return {
    from: index / BINS,
    promised: round(mean(some.map(({ score }) => score))),
    right: toShare(some.filter(({ isRight }) => isRight).length, some.length),
  };
}

function binOf(score: number): number {
  return Math.min(BINS - 1, Math.floor(score * BINS));
}

function brierOf(all: readonly Promised[]): number {
  return round(mean(all.map(({ score, isRight }) => (score - Number(isRight)) ** 2)));
}

function logLossOf(all: readonly Promised[]): number {
  const costs = all.map(
    ({ score, isRight }) =>
      -Math.log(Math.max(SURE, Math.min(1 - SURE, isRight ? score : 1 - score))),
  );
  return round(mean(costs));
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function round(x: number): number {
  return Number(x.toFixed(4));
}
