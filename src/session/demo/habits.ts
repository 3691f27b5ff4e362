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

export interface Habits {
  /** Spread, on log scale, of the pace of a case, of a phase and of a step. */
  readonly paceSigma: number;
  readonly phaseSigma: number;
  readonly stepSigma: number;
  /** A first case takes this much longer than one after many; falls by a power of the case number. */
  readonly learning: number;
  /** Chance that a phase of a case is an outlier, and how much longer it then takes. */
  readonly delayChance: number;
  readonly delayFactor: number;
  /** Chance, each time a loop could be left, that it is gone again. */
  readonly loopChance: number;
  /** Chance that a case leaves one of the main track's later phases out. */
  readonly missingChance: number;
  /** Chance that a case goes another way at a step where the procedure offers one. */
  readonly alternativeChance: number;
  /** Chance that the surgeon of a case speaks with a voice card. */
  readonly cardChance: number;
  /** Chance that a case holds its clock, once, at a step of the main track. */
  readonly holdChance: number;
  /** Chance that a hold point that asks for sizes and finds some missing is passed at the desk, not waited for. */
  readonly overrideChance: number;
  /** Chance, before each further item of a repeated group, that the group ends. */
  readonly endGroupChance: number;
  /** Chances, each time a size or choice is said, of what does not go straight. */
  readonly misheardChance: number;
  readonly notUnderstoodChance: number;
  readonly lapseChance: number;
  /** Chance that a case is given up halfway. */
  readonly abandonedChance: number;
}

export const HABITS: Habits = {
  paceSigma: 0.08,
  phaseSigma: 0.14,
  stepSigma: 0.2,
  learning: 0.12,
  delayChance: 0.03,
  delayFactor: 2.4,
  loopChance: 0.28,
  missingChance: 0.04,
  alternativeChance: 0.3,
  cardChance: 0.5,
  holdChance: 0.3,
  overrideChance: 0.02,
  endGroupChance: 0.45,
  misheardChance: 0.07,
  notUnderstoodChance: 0.05,
  lapseChance: 0.02,
  abandonedChance: 0.015,
};

/** Minutes a step takes in this case, from the phase's usual minutes and its number of steps. */
export function stepMinutes(
  usualMin: number,
  steps: number,
  factor: number,
  sigma: number,
  random: Random,
): number {
  return Math.max(0.15, (usualMin / steps) * factor * Math.exp(sigma * random.normal()));
}

/** How one phase of a case goes, as a factor on the usual time: lognormal, about what is learnt by then and a real change. */
export function phaseFactor(
  phase: string,
  place: number,
  pace: number,
  shift: DemoShift | null,
  habits: Habits,
  random: Random,
): number {
  const learnt = 1 + habits.learning * (place + 1) ** -0.4;
  const shifted = shift?.phase === phase && place >= shift.fromCase ? shift.factor : 1;
  const delay = random.uniform() < habits.delayChance ? habits.delayFactor : 1;
  return learnt * shifted * delay * Math.exp(pace + habits.phaseSigma * random.normal());
}
