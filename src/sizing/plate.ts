/**
 * What an angle means across a plate, in millimetres. Thickness and depth are taken
 * square to the native face. Bone removed is that of a round plate set on a flat
 * face: reaming tilts the face about the low edge of the plate, so that the low edge
 * is only touched and the bone opposite is taken off deepest.
 */
import { toRadians } from './vectors';

/** Difference in thickness between the two edges of a wedge. */
export function thicknessDifference(
  wedgeDeg: number,
  widthMm: number,
  /** Whether the width was measured along the new face (a plate's own) or along the native one. */
  measuredAlong: 'new-face' | 'native-face',
): number {
  const angle = toRadians(wedgeDeg);
  return widthMm * (measuredAlong === 'new-face' ? Math.sin(angle) : Math.tan(angle));
}

export interface BoneRemoved {
  /** At the deepest edge. */
  readonly deepestMm: number;
  readonly volumeMm3: number;
}

/** The bone that reaming takes to tilt the face by an angle under a round plate: half a cylinder's slice. */
export function boneRemoved(tiltDeg: number, plateMm: number): BoneRemoved {
  const radius = plateMm / 2;
  return {
    deepestMm: thicknessDifference(tiltDeg, plateMm, 'new-face'),
    volumeMm3: Math.PI * radius ** 3 * Math.tan(toRadians(tiltDeg)),
  };
}
