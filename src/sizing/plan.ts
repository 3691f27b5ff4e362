/**
 * The planning sheet's figures, all at once: what follows from the angles that were
 * typed in, for one side and one family of plates. Figures, no plan and no advice.
 */
import type { AnglePlan, Side } from '../domain';
import { compareWedges } from './choices';
import type { WedgeChoice } from './choices';
import { clockToDirection, directionToClock, turnBetween } from './direction';
import { angleBetween } from './orientation';
import type { Orientation } from './orientation';
import { turnAllowed, turningTable } from './turning';
import type { TurningError } from './turning';
import { placeWedge, wedgeBetween } from './wedge';

export interface PlanFigures {
  /** The angle that a wedge would need. */
  readonly angleDeg: number;
  /** Where its thick side would lie, minutes past twelve, not rounded; null without a correction. */
  readonly thickMin: number | null;
  /** The same in degrees from up toward forward. */
  readonly directionDeg: number | null;
  readonly choices: readonly WedgeChoice[];
  /** The wedge that the rest is about: the one taken, else the nearest. */
  readonly wedgeDeg: number;
  readonly turning: readonly TurningError[];
  /** How far it may sit off its mark for the allowed error; null where no error was allowed. */
  readonly allowed: { readonly errorDeg: number; readonly turnDeg: number | null } | null;
}

/** Works the sheet out. `taken` is the wedge that was chosen; null where none was yet. */
export function workOutPlan(
  plan: AnglePlan,
  side: Side,
  wedgesDeg: readonly number[],
  plateMm: number,
  taken: number | null,
): PlanFigures {
  const { native, target } = facesOf(plan);
  const needed = wedgeBetween(native, target);
  const choices = compareWedges(native, target, wedgesDeg, plateMm);
  const wedgeDeg = taken ?? choices.find(({ isNearest }) => isNearest)?.wedgeDeg ?? 0;
  const { allowedErrorDeg } = plan;
  return {
    angleDeg: needed.angleDeg,
    thickMin: needed.directionDeg === null ? null : directionToClock(needed.directionDeg, side),
    directionDeg: needed.directionDeg,
    choices,
    wedgeDeg,
    turning: wedgeDeg === 0 ? [] : turningTable(wedgeDeg),
    allowed:
      allowedErrorDeg === null || wedgeDeg === 0
        ? null
        : { errorDeg: allowedErrorDeg, turnDeg: turnAllowed(wedgeDeg, allowedErrorDeg) },
  };
}

export interface Placed {
  /** Null where the face would no longer look outward. */
  readonly result: Orientation | null;
  /** The angle between the face that follows and the target. */
  readonly leftDeg: number | null;
  /** How far the mark lies off the computed direction, clockwise positive; null without one. */
  readonly turnDeg: number | null;
}

/** What the wedge taken, in the direction marked, makes of the native face. */
export function workOutPlaced(
  plan: AnglePlan,
  side: Side,
  wedgeDeg: number,
  markedMin: number,
): Placed {
  const { native, target } = facesOf(plan);
  const result = placeWedge(native, wedgeDeg, clockToDirection(markedMin, side));
  const { directionDeg } = wedgeBetween(native, target);
  return {
    result,
    leftDeg: result && angleBetween(result, target),
    turnDeg:
      directionDeg === null ? null : turnBetween(directionToClock(directionDeg, side), markedMin),
  };
}

function facesOf(plan: AnglePlan): { readonly native: Orientation; readonly target: Orientation } {
  return {
    native: { versionDeg: plan.nativeVersionDeg, inclinationDeg: plan.nativeInclinationDeg },
    target: { versionDeg: plan.targetVersionDeg, inclinationDeg: plan.targetInclinationDeg },
  };
}
