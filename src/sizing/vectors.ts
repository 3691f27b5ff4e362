/** Vectors of three numbers and degrees; nothing here knows about shoulders. */
export type Vector = readonly [number, number, number];

export function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function scale(a: Vector, by: number): Vector {
  return [a[0] * by, a[1] * by, a[2] * by];
}

export function add(a: Vector, b: Vector): Vector {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

export function lengthOf(a: Vector): number {
  return Math.hypot(...a);
}

/** The vector of length one in the same direction; the given one must not be zero. */
export function unit(a: Vector): Vector {
  return scale(a, 1 / lengthOf(a));
}

export function toRadians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

export function toDegrees(radians: number): number {
  return (radians * 180) / Math.PI;
}
