/**
 * What follows from sizes and angles: wedges, directions, what a turn costs.
 * Pure: no clock, no screen. Nothing here is advice; figures follow from what was
 * typed in. Imports domain only.
 */
export { compareWedges } from './choices';
export type { WedgeChoice } from './choices';
export {
  clockToDirection,
  directionToClock,
  nearestMark,
  toWholeMinute,
  turnBetween,
} from './direction';
export { INCLINATION_MEASURES, INCLINATION_MEASURE_TEXT } from './measures';
export type { InclinationMeasure } from './measures';
export { angleBetween, checkOrientation } from './orientation';
export type { Orientation } from './orientation';
export { boneRemoved, thicknessDifference } from './plate';
export { turnAllowed, turningError, turningTable } from './turning';
export type { TurningError } from './turning';
export { placeWedge, wedgeBetween } from './wedge';
export type { Wedge } from './wedge';
