/**
 * How a socket face is tilted, and the line at right angles to it.
 * Definition A (docs/sizing.md): x points lateral along the axis of the shoulder
 * blade, y forward, z up; the face's normal is (1, tan version, tan inclination).
 * These are the angles that slices through the axis show. Version is negative for
 * retroversion, inclination is positive upward. The same axes serve both sides:
 * a left shoulder is the mirror of a right one and only its clock face differs.
 */
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import { cross, dot, lengthOf, scale, toDegrees, toRadians, unit } from './vectors';
import type { Vector } from './vectors';

export interface Orientation {
  /** Degrees, retroversion negative. */
  readonly versionDeg: number;
  /** Degrees, upward positive. */
  readonly inclinationDeg: number;
}

/** At and beyond this a face no longer looks outward, and its slice angles mean nothing. */
const LIMIT_DEG = 90;

/** The unit normal of a face. Both angles must lie within 90 degrees of zero. */
export function orientationToNormal({ versionDeg, inclinationDeg }: Orientation): Vector {
  return unit([1, Math.tan(toRadians(versionDeg)), Math.tan(toRadians(inclinationDeg))]);
}

/** The slice angles of a normal; null where the face no longer looks outward. */
export function normalToOrientation([lateral, forward, up]: Vector): Orientation | null {
  if (lateral <= Number.EPSILON) return null;
  return {
    versionDeg: toDegrees(Math.atan2(forward, lateral)),
    inclinationDeg: toDegrees(Math.atan2(up, lateral)),
  };
}

/** The angle between two faces in degrees, from 0 to 180. */
export function angleBetween(one: Orientation, other: Orientation): number {
  const [a, b] = [orientationToNormal(one), orientationToNormal(other)];
  // The arc tangent keeps its precision near zero, where the arc cosine loses half its digits.
  return toDegrees(Math.atan2(lengthOf(cross(a, b)), dot(a, b)));
}

/** Directions within a face: up toward 12 o'clock, and forward at right angles to it. */
export interface FaceAxes {
  readonly normal: Vector;
  readonly up: Vector;
  readonly forward: Vector;
}

/** The axes in which a direction on a face is measured. */
export function faceAxes(face: Orientation): FaceAxes {
  const normal = orientationToNormal(face);
  const [x, y, z] = normal;
  const along = scale(normal, z);
  const up = unit([-along[0], -along[1], 1 - along[2]]);
  return { normal: [x, y, z], up, forward: cross(up, normal) };
}

/** Checks two typed angles; the fault names the one that can't be used. */
export function checkOrientation(angles: Orientation): Result<Orientation, Fault> {
  const named = [
    ['Version', angles.versionDeg],
    ['Inclination', angles.inclinationDeg],
  ] as const;
  const wrong = named.find(([, value]) => !(Math.abs(value) < LIMIT_DEG));
  return wrong
    ? err(fault('angle-not-usable', { label: wrong[0], value: String(wrong[1]) }))
    : ok(angles);
}
