/** Where the parts of the picture of a case lie, in pixels. Pure. */
import type { Timeline, TimelineMark } from '../../review';

/** Heights and distances of the picture. */
export const PICTURE = {
  top: 30,
  laneLabel: 24,
  phaseLabel: 20,
  bar: 34,
  laneGap: 18,
  markRow: 24,
  markSize: 16,
  bottom: 34,
} as const;

/** Width of one character of a label, a little generous. */
const CHARACTER = 8;

export interface PlacedMark {
  readonly mark: TimelineMark;
  readonly x: number;
  readonly row: number;
}

export interface Layout {
  readonly height: number;
  readonly lanesTop: readonly number[];
  readonly marksTop: number;
  readonly axisY: number;
  readonly marks: readonly PlacedMark[];
  /** Where the words of a held clock stand; one that has no room between the others has none. */
  readonly held: readonly { readonly text: string; readonly x: number }[];
  xOf(atMs: number): number;
}

/** Lays the picture out on a given width. */
export function layOutPicture(timeline: Timeline, width: number): Layout {
  const xOf = (atMs: number) => (timeline.endMs === 0 ? 0 : (atMs / timeline.endMs) * width);
  const laneHeight = PICTURE.laneLabel + PICTURE.phaseLabel + PICTURE.bar + PICTURE.laneGap;
  const lanesTop = timeline.lanes.map((_, index) => PICTURE.top + index * laneHeight);
  const marksTop = PICTURE.top + timeline.lanes.length * laneHeight;
  const marks = stackMarks(
    timeline.marks.filter(({ kind }) => kind !== 'restart'),
    xOf,
    width,
  );
  const rows = Math.max(0, ...marks.map(({ row }) => row + 1));
  const axisY = marksTop + rows * PICTURE.markRow + 8;
  const held = placeHeld(timeline, xOf, width);
  return { height: axisY + PICTURE.bottom, lanesTop, marksTop, axisY, marks, held, xOf };
}

/** Beside its stretch, or as far left of it as the words need at the right edge. */
function placeHeld(
  { clockHolds }: Timeline,
  xOf: (atMs: number) => number,
  width: number,
): Layout['held'] {
  let free = 0;
  return clockHolds.flatMap(({ reason, fromMs }) => {
    const text = `held: ${reason}`;
    const room = text.length * CHARACTER;
    const x = Math.min(xOf(fromMs), Math.max(0, width - room));
    if (x < free) return [];
    free = x + room;
    return [{ text, x }];
  });
}

/** Marks that would touch go one row down. */
function stackMarks(
  marks: readonly TimelineMark[],
  xOf: (atMs: number) => number,
  width: number,
): readonly PlacedMark[] {
  const ends: number[] = [];
  return marks
    .toSorted((a, b) => a.atMs - b.atMs)
    .map((mark) => {
      const room = PICTURE.markSize + markLabel(mark).length * CHARACTER + 6;
      const x = Math.min(xOf(mark.atMs), Math.max(0, width - room));
      const free = ends.findIndex((end) => end <= x);
      const row = free === -1 ? ends.length : free;
      ends[row] = x + room;
      return { mark, x, row };
    });
}

/** The few characters that stand beside a mark. */
export function markLabel({ kind, text }: TimelineMark): string {
  return kind === 'milestone' ? text : '';
}

/** How far a label may reach that begins at one moment: to the next thing that begins, or its own end. */
export function labelEnd(
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
  all: readonly { readonly fromMs: number }[],
): number {
  const later = all.map((other) => other.fromMs).filter((ms) => ms > fromMs);
  return Math.min(toMs, ...later);
}

/** A label that has room in a stretch, or its number alone, or nothing. */
export function fitLabel(place: number, title: string, width: number): string {
  const whole = `${place} ${title}`;
  if (whole.length * CHARACTER <= width) return whole;
  // Room for one more character, so that two numbers side by side stay apart.
  return (String(place).length + 1) * CHARACTER <= width ? String(place) : '';
}
