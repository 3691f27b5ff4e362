/**
 * Learning curve: how time falls with the number of cases done. Fits the power law
 * T = T1 · n^b (Wright 1936) by least squares on logarithms of both, with the
 * uncertainty that a line has: a t interval for the slope, a band for the usual time.
 * It claims nothing while the interval of the slope holds nought.
 */
import { studentQuantile } from './student';

export interface LearningCurve {
  readonly count: number;
  /** Fitted time of the first case. */
  readonly first: number;
  readonly slope: number;
  /** 95 % interval of the slope. */
  readonly slopeLow: number;
  readonly slopeHigh: number;
  /** Time after twice as many cases, as a share of the time before: 2^b. */
  readonly perDoubling: number;
  readonly perDoublingLow: number;
  readonly perDoublingHigh: number;
  /** Whether the interval of the slope excludes nought. */
  readonly isClear: boolean;
  /** Usual time at a case number, with the 95 % band of the fit. */
  at(caseNumber: number): { readonly fit: number; readonly low: number; readonly high: number };
}

/** Fits times to case numbers (from 1); null below three distinct numbers. */
export function fitLearning(
  cases: readonly { readonly number: number; readonly time: number }[],
): LearningCurve | null {
  const points = cases
    .filter(({ number, time }) => number >= 1 && time > 0)
    .map(({ number, time }) => ({ x: Math.log(number), y: Math.log(time) }));
  const line = fitLine(points);
  if (!line) return null;
  const { count, slope, intercept, meanX, spreadX, sigma } = line;
  const t = studentQuantile(0.975, count - 2);
  const reach = (t * sigma) / Math.sqrt(spreadX);
  return {
    count,
    first: Math.exp(intercept),
    slope,
    slopeLow: slope - reach,
    slopeHigh: slope + reach,
    perDoubling: 2 ** slope,
    perDoublingLow: 2 ** (slope - reach),
    perDoublingHigh: 2 ** (slope + reach),
    isClear: slope - reach > 0 || slope + reach < 0,
    at: (caseNumber) => {
      const x = Math.log(caseNumber);
      const y = intercept + slope * x;
      const half = t * sigma * Math.sqrt(1 / count + (x - meanX) ** 2 / spreadX);
      return { fit: Math.exp(y), low: Math.exp(y - half), high: Math.exp(y + half) };
    },
  };
}

interface Line {
  readonly count: number;
  readonly slope: number;
  readonly intercept: number;
  readonly meanX: number;
  /** Sum of squares of x around its mean. */
  readonly spreadX: number;
  /** Residual standard deviation. */
  readonly sigma: number;
}

/** Ordinary least squares with what its uncertainty needs; null where no line is defined. */
export function fitLine(
  points: readonly { readonly x: number; readonly y: number }[],
): Line | null {
  const count = points.length;
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / count;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / count;
  const spreadX = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  if (count < 3 || spreadX === 0) return null;
  const slope = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0) / spreadX;
  const intercept = meanY - slope * meanX;
  const left = points.reduce((sum, { x, y }) => sum + (y - intercept - slope * x) ** 2, 0);
  return { count, slope, intercept, meanX, spreadX, sigma: Math.sqrt(left / (count - 2)) };
}
