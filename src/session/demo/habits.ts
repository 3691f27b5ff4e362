/** How an invented team works: spreads, loops, delays, what goes wrong and how often. All of it our own invention. */
import type { Random } from '../../review';

/** A real change from a given case on, for the charts to find. */
export interface DemoShift {
  readonly phase: string;
  /** From this case on, counted from 0. */
  readonly fromCase: number;
  /** 1.15 is fifteen percent longer. */
  readonly factor: number;
}

export const HABITS = {
  /** Spread, on log scale, of the pace of a case, of a phase and of a step. */
  paceSigma: 0.08,
  phaseSigma: 0.14,
  stepSigma: 0.2,
  /** A first case takes this much longer than one after many; falls by a power of the case number. */
  learning: 0.12,
  delayChance: 0.03,
  delayFactor: 2.4,
  loopChance: 0.28,
  missingChance: 0.04,
  holdChance: 0.3,
  overrideChance: 0.06,
  endGroupChance: 0.45,
  misheardChance: 0.07,
  notUnderstoodChance: 0.05,
  lapseChance: 0.02,
  abandonedChance: 0.015,
} as const;

/** Minutes a step takes in this case, from the phase's usual minutes and its number of steps. */
export function stepMinutes(
  usualMin: number,
  steps: number,
  factor: number,
  random: Random,
): number {
  return Math.max(0.15, (usualMin / steps) * factor * Math.exp(HABITS.stepSigma * random.normal()));
}

/** How one case goes, phase by phase: a factor on the usual time. */
export function phaseFactor(
  phase: string,
  place: number,
  pace: number,
  shift: DemoShift | null,
  random: Random,
): number {
  const learnt = 1 + HABITS.learning * (place + 1) ** -0.4;
  const shifted = shift?.phase === phase && place >= shift.fromCase ? shift.factor : 1;
  const delay = random.uniform() < HABITS.delayChance ? HABITS.delayFactor : 1;
  return learnt * shifted * delay * Math.exp(pace + HABITS.phaseSigma * random.normal());
}
