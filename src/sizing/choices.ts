/**
 * The wedges that exist, and what each would leave if it were set in the computed
 * direction: the angles that follow, the angle that is left over, the thickness
 * across the plate and the bone that would still have to go, compared with no wedge.
 * A comparison of numbers, not a choice.
 */
import { angleBetween } from './orientation';
import type { Orientation } from './orientation';
import { boneRemoved, thicknessDifference } from './plate';
import type { BoneRemoved } from './plate';
import { placeWedge, wedgeBetween } from './wedge';

export interface WedgeChoice {
  /** 0 is a plate without a wedge. */
  readonly wedgeDeg: number;
  /** Null where the face would no longer look outward. */
  readonly result: Orientation | null;
  /** The angle between the face that follows and the target; null with the result. */
  readonly leftDeg: number | null;
  readonly isOver: boolean;
  readonly isNearest: boolean;
  readonly thicknessMm: number;
  /** What reaming would take to make up for the angle left over. */
  readonly bone: BoneRemoved | null;
  /** That volume as a part of the volume without a wedge; null where none would go. */
  readonly boneShare: number | null;
}

/** Compares the available wedges, none among them, in rising order. */
export function compareWedges(
  native: Orientation,
  target: Orientation,
  availableDeg: readonly number[],
  plateMm: number,
): readonly WedgeChoice[] {
  const needed = wedgeBetween(native, target);
  const whole = boneRemoved(needed.angleDeg, plateMm);
  const wedges = [...new Set([0, ...availableDeg])].sort((a, b) => a - b);
  const rows = wedges.map((wedgeDeg): Omit<WedgeChoice, 'isNearest'> => {
    const result = placeWedge(native, wedgeDeg, needed.directionDeg ?? 0);
    const leftDeg = result && angleBetween(result, target);
    const bone = leftDeg === null ? null : boneRemoved(leftDeg, plateMm);
    return {
      wedgeDeg,
      result,
      leftDeg,
      isOver: wedgeDeg > needed.angleDeg,
      thicknessMm: thicknessDifference(wedgeDeg, plateMm, 'new-face'),
      bone,
      boneShare: bone && whole.volumeMm3 > 0 ? bone.volumeMm3 / whole.volumeMm3 : null,
    };
  });
  const least = Math.min(...rows.map(({ leftDeg }) => leftDeg ?? Infinity));
  return rows.map((row) => ({ ...row, isNearest: row.leftDeg === least }));
}
