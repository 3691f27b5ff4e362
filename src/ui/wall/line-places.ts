/** Where the tracks of the line drawing lie, in wall units from its left edge. */

/** Width of the drawing with its words. */
export const LINE_WIDTH = 570;
/** The first track leaves room at its left for loops and their count. */
const FIRST_X = 74;
const PITCH = 40;
const GAP_TO_WORDS = 38;

/** Where a track's line runs. */
export function trackX(track: number): number {
  return FIRST_X + track * PITCH;
}

/** Where the words begin. */
export function labelX(trackCount: number): number {
  return trackX(trackCount - 1) + GAP_TO_WORDS;
}
