/**
 * Where things lie on the drawing of the socket's face, seen from lateral with up on
 * top: minutes past twelve in, places of an SVG out (y grows downward).
 */
import type { Side } from '../../domain';

/** Radius of the drawn face and of the plate on it, in units of the drawing. */
export const FACE_RADIUS = 132;
export const PLATE_RADIUS = 84;
/** How far from the middle do the screw holes of a plate lie? */
const HOLE_RADIUS = 56;

export interface Place {
  readonly x: number;
  readonly y: number;
}

/** A place on the face by clock position and distance from the middle. */
export function placeAt(minutes: number, radius: number): Place {
  const angle = (minutes * Math.PI) / 360;
  return { x: radius * Math.sin(angle), y: -radius * Math.cos(angle) };
}

/** The helper mark: opposite the mark of greatest loss (common practice). */
export function oppositeOf(minutes: number): number {
  return (minutes + 360) % 720;
}

/** Screw holes of a plate whose thick side lies at a clock position. */
export function holePlaces(thickMin: number, holesDeg: readonly number[]): readonly Place[] {
  return holesDeg.map((degrees) => placeAt(thickMin + degrees * 2, HOLE_RADIUS));
}

/** What lies at 3 and at 9 o'clock: front is at 3 on a right shoulder, at 9 on a left one. */
export function namesOf(side: Side): { readonly three: string; readonly nine: string } {
  return side === 'right' ? { three: 'front', nine: 'back' } : { three: 'back', nine: 'front' };
}

/** The wedge as a crescent of the plate: as wide as the difference in thickness, thick at the top. */
export function crescentPath(): string {
  const [outer, shift] = [PLATE_RADIUS, 20];
  const inner = outer - shift / 2;
  const circle = (radius: number, y: number) =>
    `M0 ${y - radius}A${radius} ${radius} 0 1 1 0 ${y + radius}A${radius} ${radius} 0 1 1 0 ${y - radius}Z`;
  return `${circle(outer, 0)}${circle(inner, shift / 2)}`;
}
