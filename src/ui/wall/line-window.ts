/**
 * Which steps of the line fit into the window around now. What is in hand comes
 * first, then what is next, then what was last; each track stays in one piece.
 */
import type { TrackView } from '../../session';

export interface WindowItem {
  readonly track: number;
  readonly index: number;
}

/** How far from now does the window look at most? Farther is review, not now. */
const FARTHEST = 12;

/** The step at which a track stands; past its last one where it is done. */
export function hereOf({ steps, current }: TrackView): number {
  const index = current ? steps.findIndex(({ id }) => id === current.step) : -1;
  return index < 0 ? steps.length : index;
}

/** The steps to show, in the order in which they are drawn. */
export function chooseWindow(
  tracks: readonly TrackView[],
  room: number,
  heightOf: (track: number, index: number) => number,
): readonly WindowItem[] {
  const chosen: WindowItem[] = [];
  const isFull = new Set<string>();
  let left = room;
  for (const { track, offset } of listOffsets(tracks.length)) {
    const view = tracks[track];
    if (!view) continue;
    const index = hereOf(view) + offset;
    const direction = `${track}${offset < 0 ? 'before' : 'after'}`;
    if (index < 0 || index >= view.steps.length || isFull.has(direction)) continue;
    const height = heightOf(track, index);
    if (height > left) {
      isFull.add(direction);
      continue;
    }
    left -= height;
    chosen.push({ track, index });
  }
  return sortForDrawing(tracks, chosen);
}

/** Every place around now, the most useful first. */
function listOffsets(
  trackCount: number,
): readonly { readonly track: number; readonly offset: number }[] {
  const others = Array.from({ length: trackCount - 1 }, (_, index) => index + 1);
  const at = (offset: number, list: readonly number[]) => list.map((track) => ({ track, offset }));
  const nearest = [
    ...at(0, [0, ...others]), ...at(1, [0]), ...at(-1, [0]), ...at(1, others),
    ...at(2, [0]), ...at(3, [0]), ...at(-1, others), ...at(-2, [0]),
  ]; // prettier-ignore
  const rest = Array.from({ length: FARTHEST }, (_, index) => index + 2).flatMap((offset) => [
    ...(offset > 3 ? at(offset, [0]) : []),
    ...at(offset, others),
    ...(offset > 2 ? at(-offset, [0]) : []),
    ...at(-offset, others),
  ]);
  return [...nearest, ...rest];
}

/** Earlier above later; side by side, the first track is nearer to now's upper edge. */
function sortForDrawing(
  tracks: readonly TrackView[],
  items: readonly WindowItem[],
): readonly WindowItem[] {
  const offsetOf = ({ track, index }: WindowItem) => {
    const view = tracks[track];
    return view ? index - hereOf(view) : 0;
  };
  return [...items].sort((a, b) => {
    const byOffset = offsetOf(a) - offsetOf(b);
    if (byOffset !== 0) return byOffset;
    return offsetOf(a) < 0 ? b.track - a.track : a.track - b.track;
  });
}
