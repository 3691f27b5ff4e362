/**
 * What is lost when a wedge sits some degrees off its mark, turned about the native
 * face's normal: the error between the face meant and the face got, the part of the
 * correction that is left along the mark and the part that now acts across it.
 */
import { toDegrees, toRadians } from './vectors';

export interface TurningError {
  /** How far the wedge sits off its mark, degrees, signed. */
  readonly turnDeg: number;
  /** The angle between the face meant and the face got. */
  readonly errorDeg: number;
  /** Correction left in the direction that was meant. */
  readonly alongDeg: number;
  /** Correction that acts across it, unwanted; signed as the turn. */
  readonly acrossDeg: number;
}

/** Turns that the small table shows, degrees: the marks of a clock face and the steps between. */
export const TABLE_TURNS_DEG = [5, 10, 15, 20, 30] as const;

/** What a turn costs. From cos e = cos² a + sin² a · cos d, written so that small turns keep their digits. */
export function turningError(wedgeDeg: number, turnDeg: number): TurningError {
  const [wedge, turn] = [toRadians(wedgeDeg), toRadians(turnDeg)];
  const half = Math.min(1, Math.sin(wedge) * Math.abs(Math.sin(turn / 2)));
  return {
    turnDeg,
    errorDeg: toDegrees(2 * Math.asin(half)),
    alongDeg: toDegrees(Math.atan(Math.tan(wedge) * Math.cos(turn))),
    acrossDeg: toDegrees(Math.atan(Math.tan(wedge) * Math.sin(turn))),
  };
}

/**
 * How far a wedge may sit off its mark for an error up to the given one, degrees
 * either way; null where no turn can cost that much.
 */
export function turnAllowed(wedgeDeg: number, errorDeg: number): number | null {
  const ratio = Math.sin(toRadians(errorDeg) / 2) / Math.sin(toRadians(wedgeDeg));
  return ratio >= 1 ? null : toDegrees(2 * Math.asin(ratio));
}

/** The small table for one wedge. */
export function turningTable(wedgeDeg: number): readonly TurningError[] {
  return TABLE_TURNS_DEG.map((turnDeg) => turningError(wedgeDeg, turnDeg));
}
