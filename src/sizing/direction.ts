/**
 * A direction on the socket face as a clock position, seen from lateral with 12
 * o'clock up: 3 o'clock is forward on a right shoulder and backward on a left one.
 * Clock positions are minutes past twelve, as everywhere in the product.
 */
import type { Side } from '../domain';
import { around } from './wedge';

/** The clock face: 720 minutes for 360 degrees. */
const MINUTES_PER_DEGREE = 2;
const MINUTES_AROUND = 720;

/** Where a direction lies on the clock face of a side, 0 to 720, not rounded. */
export function directionToClock(directionDeg: number, side: Side): number {
  const turned = side === 'right' ? directionDeg : -directionDeg;
  return around(turned) * MINUTES_PER_DEGREE;
}

/** The direction, from up toward forward, of a clock position. */
export function clockToDirection(minutes: number, side: Side): number {
  const degrees = minutes / MINUTES_PER_DEGREE;
  return around(side === 'right' ? degrees : -degrees);
}

/** The nearest position on a clock face that is marked in steps. */
export function nearestMark(minutes: number, stepMin: number): number {
  return (Math.round(minutes / stepMin) * stepMin) % MINUTES_AROUND;
}

/**
 * How far a mark lies off the planned position, in degrees: positive clockwise as
 * seen from lateral, from above -180 to 180.
 */
export function turnBetween(plannedMin: number, markedMin: number): number {
  const turn = around((markedMin - plannedMin) / MINUTES_PER_DEGREE);
  return turn > 180 ? turn - 360 : turn;
}

/** The whole minute nearest to a clock position, for showing: 588.37 gives 588, which is 9:48. */
export function toWholeMinute(minutes: number): number {
  return Math.round(minutes) % MINUTES_AROUND;
}
