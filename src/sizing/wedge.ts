/**
 * The wedge between two faces, both ways: what would take the native face to the
 * target, and what a wedge that was placed makes of the native face. Directions are
 * degrees on the native face, from up (12 o'clock) toward forward; they say where
 * the thick side lies. Formulas and a drawing: docs/sizing.md.
 */
import { angleBetween, faceAxes, normalToOrientation, orientationToNormal } from './orientation';
import type { Orientation } from './orientation';
import { add, dot, lengthOf, scale, toDegrees, toRadians } from './vectors';

export interface Wedge {
  readonly angleDeg: number;
  /** Where the thick side lies, 0 to 360 from up toward forward; null where no wedge is needed. */
  readonly directionDeg: number | null;
}

/** Below this sine the two faces agree, or oppose each other, and no direction is meant. */
const NO_DIRECTION = 1e-12;

/** The wedge that takes the native face to the target. */
export function wedgeBetween(native: Orientation, target: Orientation): Wedge {
  const { normal, up, forward } = faceAxes(native);
  const aimed = orientationToNormal(target);
  const across = add(aimed, scale(normal, -dot(normal, aimed)));
  const angleDeg = angleBetween(native, target);
  if (lengthOf(across) < NO_DIRECTION) return { angleDeg, directionDeg: null };
  // The thick side lies away from where the face must come round to.
  const direction = toDegrees(Math.atan2(-dot(across, forward), -dot(across, up)));
  return { angleDeg, directionDeg: around(direction) };
}

/** The face that a wedge makes of the native one; null where it would no longer look outward. */
export function placeWedge(
  native: Orientation,
  angleDeg: number,
  directionDeg: number,
): Orientation | null {
  const { normal, up, forward } = faceAxes(native);
  const [angle, direction] = [toRadians(angleDeg), toRadians(directionDeg)];
  const thick = add(scale(up, Math.cos(direction)), scale(forward, Math.sin(direction)));
  return normalToOrientation(add(scale(normal, Math.cos(angle)), scale(thick, -Math.sin(angle))));
}

/** Any angle as one from 0 up to, but without, 360. */
export function around(degrees: number): number {
  const positive = ((degrees % 360) + 360) % 360;
  return positive === 360 ? 0 : positive;
}
