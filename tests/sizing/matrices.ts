/**
 * The same geometry by another road: rotation matrices and dot products of mathjs,
 * for one side in world axes (x lateral, y forward, z up). A left shoulder is looked
 * at as what it is, a mirror image, instead of by a rule about clock faces.
 */
import { cross, dot, matrix, multiply, norm, rotationMatrix, subtract, unit } from 'mathjs';
import type { Matrix } from 'mathjs';
import type { Side } from '../../src/domain';
import type { Orientation } from '../../src/sizing';

type Numbers = number[];

export const degrees = (radians: number): number => (radians * 180) / Math.PI;
export const radians = (angle: number): number => unit(angle, 'deg').toNumber('rad');

const scaled = (vector: Numbers, by: number): Numbers => multiply(vector, by) as Numbers;
const plain = (result: unknown): Numbers => (result as Matrix).valueOf() as Numbers;

/** The unit normal of a face, from the two lines that slices show: it is square to both. */
export function normalOf({ versionDeg, inclinationDeg }: Orientation): Numbers {
  const axialLine = [-Math.tan(radians(versionDeg)), 1, 0];
  const coronalLine = [-Math.tan(radians(inclinationDeg)), 0, 1];
  const normal = cross(axialLine, coronalLine) as Numbers;
  return scaled(normal, 1 / Number(norm(normal)));
}

/** Slice angles of a normal. */
export function anglesOf([x = 0, y = 0, z = 0]: Numbers): Orientation {
  return { versionDeg: degrees(Math.atan2(y, x)), inclinationDeg: degrees(Math.atan2(z, x)) };
}

/** Turns a vector about an axis. */
export function turn(vector: Numbers, angleDeg: number, axis: Numbers): Numbers {
  return plain(multiply(rotationMatrix(radians(angleDeg), matrix(axis)), matrix(vector)));
}

/** The angle between two unit vectors. */
export function angleOf(a: Numbers, b: Numbers): number {
  return degrees(Math.acos(Math.min(1, Math.max(-1, dot(a, b)))));
}

/** Wedge angle and the axis about which the native face must turn to the target. */
export function turnNeeded(
  native: Orientation,
  target: Orientation,
): { readonly angleDeg: number; readonly axis: Numbers } {
  const [from, to] = [normalOf(native), normalOf(target)];
  return { angleDeg: angleOf(from, to), axis: cross(from, to) as Numbers };
}

/**
 * Places a wedge by turning: its thick side, first up, is turned about the normal to
 * its direction; then the face tips over the thin side.
 */
export function placeByMatrices(
  native: Orientation,
  angleDeg: number,
  directionDeg: number,
): Orientation {
  const normal = normalOf(native);
  const up = [0, 0, 1];
  const within = subtract(up, scaled(normal, dot(up, normal))) as Numbers;
  const noon = scaled(within, 1 / Number(norm(within)));
  // From up toward forward is a turn that is negative about the outward normal.
  const thick = turn(noon, -directionDeg, normal);
  return anglesOf(turn(normal, angleDeg, cross(thick, normal) as Numbers));
}

/**
 * The clock position, in hours, at which someone who looks at a face from lateral sees
 * a direction on it. Worked in the axes of a body (right, forward, up), in which lateral
 * is right for a right shoulder and left for a left one.
 */
export function clockSeen(point: Numbers, normal: Numbers, side: Side): number {
  const inBody = ([x = 0, y = 0, z = 0]: Numbers): Numbers => [side === 'right' ? x : -x, y, z];
  const gaze = scaled(inBody(normal), -1);
  const up = [0, 0, 1];
  const toTheRight = cross(gaze, up) as Numbers;
  const upOnFace = subtract(up, scaled(gaze, dot(up, gaze))) as Numbers;
  const part = (axis: Numbers): number => dot(inBody(point), axis) / Number(norm(axis));
  return ((Math.atan2(part(toTheRight), part(upOnFace)) * 6) / Math.PI + 12) % 12;
}
