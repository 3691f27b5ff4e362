/**
 * Lays out the drawing of a whole operation for a given width: tracks side by side,
 * time downwards. A step stands below everything in other tracks that its hold point
 * waits for, so that reading down is reading on. Ways back and ways round run in lanes
 * left of a track, what one track gives to another in the gutter between. Pure.
 */
import type { StepId, TrackId } from '../../domain';
import type { ProcedureSketch, SketchTrack } from '../../session';
import { HOLD_TOP, listBlocks, textLeft } from './drawing-blocks';
import type { Block, BlockOf } from './drawing-blocks';
import { assignLanes, courseOf, laneSpans, loopSpans, waySpans } from './drawing-lanes';
import {
  BRANCH_INDENT, GUTTER, LANE, SMALL_LINE, SMALL_PX, TEXT_INDENT, TITLE_LINE, TITLE_PX, widthOf,
} from './drawing-measures'; // prettier-ignore

export type PlacedBlock = Block & { readonly y: number };

export interface Column {
  readonly track: TrackId;
  readonly title: string;
  readonly x: number;
  readonly right: number;
  readonly lineX: number;
  readonly blocks: readonly PlacedBlock[];
}

/** A line beside the tracks; `d` is an SVG path. */
export interface SideLine {
  readonly kind: 'loop' | 'way' | 'branch' | 'feed' | 'group';
  readonly key: string;
  readonly d: string;
  /** Where it arrives: an arrow points there, or a dot lies there. */
  readonly end: { readonly x: number; readonly y: number; readonly shape: 'right' | 'left' | 'dot' } | null; // prettier-ignore
}

export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly columns: readonly Column[];
  readonly lines: readonly SideLine[];
}

/** Where the tracks begin, below their titles. */
const TOP = 54;
/** Where a step's station lies below the top of its block. */
export const DOT_Y = 11;
/** Half a station. */
const RADIUS = 9;
/** Rounding of corners. */
const BEND = 7;
/** How far above the end of its last block a way leaves for the lanes, and below the top of a phase's block it joins. */
const OUT_GAP = 6;
const JOIN_GAP = 9;

/** Lays out a sketch on a page of this width. */
export function layOutDrawing(sketch: ProcedureSketch, width: number): Drawing {
  const each = (width - GUTTER * (sketch.tracks.length - 1)) / Math.max(1, sketch.tracks.length);
  const frames = sketch.tracks.map((track, index) => {
    const x = index * (each + GUTTER);
    const lanes = laneSpans(track).length;
    const lineX = x + RADIUS + 8 + lanes * LANE;
    return { track, x, right: x + each, lineX, blocks: listBlocks(track, x + each - lineX - TEXT_INDENT) }; // prettier-ignore
  });
  const placed = placeBlocks(frames.map(({ blocks }) => blocks));
  const columns = frames.map(({ track, x, right, lineX }, index): Column => ({
    track: track.id,
    title: track.title,
    x,
    right,
    lineX,
    blocks: placed[index] ?? [],
  }));
  const bottoms = columns.map(({ blocks }) => {
    const last = blocks.at(-1);
    return last ? last.y + last.height : TOP;
  });
  return {
    width,
    height: Math.max(TOP, ...bottoms) + 8,
    columns,
    lines: [
      ...sketch.tracks.flatMap((track, index) => sideLines(track, columns[index])),
      ...feedLines(columns),
    ],
  };
}

/** Finds the block of a step in all columns. */
export function findStep(
  columns: readonly Column[],
  step: StepId,
): {
  readonly column: Column;
  readonly index: number;
  readonly block: PlacedBlock & BlockOf<'step'>;
} | null {
  // prettier-ignore
  for (const [index, column] of columns.entries()) {
    const block = column.blocks.find(
      (candidate): candidate is PlacedBlock & BlockOf<'step'> =>
        candidate.kind === 'step' && candidate.step.id === step,
    );
    if (block) return { column, index, block };
  }
  return null;
}

/** Gives every block its height on the page: below the one before, and a hold point below what feeds it. */
function placeBlocks(tracks: readonly (readonly Block[])[]): readonly (readonly PlacedBlock[])[] {
  const trackOf = new Map<StepId, number>();
  for (const [index, blocks] of tracks.entries())
    for (const block of blocks) if (block.kind === 'step') trackOf.set(block.step.id, index);
  const holdCount = tracks.flat().filter(({ kind }) => kind === 'hold').length;
  let bottoms = new Map<StepId, number>();
  let placed = stack(tracks, () => TOP);
  // Each round moves at least one hold point for good; what still moves then waits in a circle.
  for (let round = 0; round <= holdCount + 1; round += 1) {
    const next = stepBottoms(placed);
    if (sameBottoms(bottoms, next)) return placed;
    bottoms = next;
    const known = next;
    placed = stack(tracks, (block, track) =>
      block.kind === 'hold'
        ? Math.max(
            TOP,
            ...block.conditions.flatMap(({ from }) =>
              from !== null && trackOf.get(from) !== track ? [known.get(from) ?? TOP] : [],
            ),
          )
        : TOP,
    );
  }
  return stack(tracks, () => TOP);
}

function stack(
  tracks: readonly (readonly Block[])[],
  leastY: (block: Block, track: number) => number,
): readonly (readonly PlacedBlock[])[] {
  return tracks.map((blocks, track) => {
    let y = TOP;
    return blocks.map((block, index) => {
      y = Math.max(
        y,
        leastY(block, track),
        leastOfHeading(blocks, index, (next) => leastY(next, track)),
      );
      const here = { ...block, y };
      y += block.height;
      return here;
    });
  });
}

/** A heading keeps to what it heads: it moves down with the hold point that follows it. */
function leastOfHeading(
  blocks: readonly Block[],
  index: number,
  leastY: (block: Block) => number,
): number {
  let above = 0;
  for (const block of blocks.slice(index)) {
    if (block.kind === 'hold') return leastY(block) - above;
    if (block.kind === 'step' || block.kind === 'end') return TOP;
    above += block.height;
  }
  return TOP;
}

function stepBottoms(tracks: readonly (readonly PlacedBlock[])[]): Map<StepId, number> {
  return new Map(
    tracks.flatMap((blocks) =>
      blocks.flatMap((block) =>
        block.kind === 'step' ? [[block.step.id, block.y + TITLE_LINE] as const] : [],
      ),
    ),
  );
}

function sameBottoms(a: ReadonlyMap<StepId, number>, b: ReadonlyMap<StepId, number>): boolean {
  return a.size === b.size && [...b].every(([step, y]) => a.get(step) === y);
}

function sideLines(track: SketchTrack, column: Column | undefined): readonly SideLine[] {
  if (!column) return [];
  const ids = track.phases.flatMap(({ steps }) => steps.map(({ id }) => id));
  const loops = track.phases.flatMap(({ steps }) =>
    steps.flatMap(({ id, loop }) => (loop ? [{ id, backTo: loop.backTo }] : [])),
  );
  const spans = [...loopSpans(track, ids), ...waySpans(track, ids)];
  const { laneOf } = assignLanes(spans);
  const laneX = (span: number) => column.lineX - RADIUS - 8 - laneOf(span) * LANE;
  return [
    ...loops.flatMap(({ id, backTo }, index): SideLine[] => {
      const [here, back] = [dotOf(column, id), dotOf(column, backTo)];
      if (!here || !back) return [];
      const x = laneX(index);
      const from = here.y + 4;
      const to = back.y + (backTo === id ? -6 : 0);
      return [
        {
          kind: 'loop',
          key: `loop/${id}`,
          d: bracket(here.x - RADIUS, from, x, to, back.x - RADIUS - 6),
          end: { x: back.x - RADIUS - 2, y: to, shape: 'right' },
        },
      ];
    }),
    ...track.alternatives.flatMap((way, index) =>
      wayLines(column, way, laneX(loops.length + index), track),
    ),
    ...groupLines(track, column),
  ];
}

/** A line that leaves to the left, runs along a lane and comes back. */
function bracket(x1: number, y1: number, laneX: number, y2: number, x2: number): string {
  const way = y2 < y1 ? -1 : 1;
  return `M${x1} ${y1}H${laneX + BEND}Q${laneX} ${y1} ${laneX} ${y1 + way * BEND}V${y2 - way * BEND}Q${laneX} ${y2} ${laneX + BEND} ${y2}H${x2}`;
}

function dotOf(column: Column, step: StepId): { readonly x: number; readonly y: number } | null {
  const found = findStep([column], step);
  return found && { x: lineXOf(column, found.block), y: found.block.y + DOT_Y };
}

/** The line that a block lies on: the track's, or that of another way. */
export function lineXOf({ lineX }: Column, { branch }: Pick<Block, 'branch'>): number {
  return lineX + (branch === null ? 0 : BRANCH_INDENT);
}

/** Another way: a rail along the steps at which it can be chosen, its own line, and where it joins. */
function wayLines(
  column: Column,
  way: SketchTrack['alternatives'][number],
  laneX: number,
  track: SketchTrack,
): readonly SideLine[] {
  const { id, at } = way;
  const dots = at.flatMap((step) => dotOf(column, step) ?? []);
  const head = column.blocks.find((block) => block.kind === 'way' && block.alternative.id === id);
  const [first] = dots;
  if (!first || !head) return [];
  const headY = head.y + 18 + DOT_Y;
  const branchX = column.lineX + BRANCH_INDENT;
  const ticks = dots.map(({ x, y }) => `M${x - RADIUS} ${y - 4}H${laneX}`).join('');
  const rail = `M${laneX} ${first.y - 4}V${headY - BEND}Q${laneX} ${headY} ${laneX + BEND} ${headY}H${branchX - 5}`;
  return [
    {
      kind: 'way',
      key: `rail/${id}`,
      d: ticks + rail,
      end: { x: branchX - 3, y: headY, shape: 'right' },
    },
    branchLine(column, head, courseOf(track, way), laneX),
  ];
}

/** The line of another way itself, from its heading to where it joins the main line or ends. */
function branchLine(
  column: Column,
  head: PlacedBlock,
  { join, passes }: ReturnType<typeof courseOf>,
  laneX: number,
): SideLine {
  const { lineX, blocks } = column;
  const key = `branch/${head.branch ?? ''}`;
  const x = lineX + BRANCH_INDENT;
  const own = blocks.filter(({ branch }) => branch === head.branch);
  const last = own.at(-1) ?? head;
  const from = `M${x} ${head.y + 18 + DOT_Y}`;
  const joinY = join === null ? null : joinYOf(column, join);
  if (joinY === null) {
    const endY = last.y + (last.kind === 'step' ? 0 : 18) + DOT_Y + 20;
    return { kind: 'branch', key, d: `${from}V${endY}M${x - 8} ${endY}H${x + 8}`, end: null };
  }
  if (!passes) {
    const d = `${from}V${joinY - BEND}Q${x} ${joinY} ${x - BEND} ${joinY}H${lineX + 8}`;
    return { kind: 'branch', key, d, end: { x: lineX + 5, y: joinY, shape: 'left' } };
  }
  // Over to the lanes in the space below its last block, and past everything between.
  const outY = last.y + last.height - OUT_GAP;
  const out = `${from}V${outY - BEND}Q${x} ${outY} ${x - BEND} ${outY}H${laneX + BEND}Q${laneX} ${outY} ${laneX} ${outY + BEND}`;
  const back = `V${joinY - BEND}Q${laneX} ${joinY} ${laneX + BEND} ${joinY}H${lineX - 8}`;
  return { kind: 'branch', key, d: out + back, end: { x: lineX - 5, y: joinY, shape: 'right' } };
}

/** Where a way joins at a step: in the space above the heading of its phase, else above the step itself. */
function joinYOf({ blocks }: Column, join: StepId): number | null {
  const index = blocks.findIndex((block) => block.kind === 'step' && block.step.id === join);
  const step = blocks[index];
  if (!step) return null;
  const above = blocks.slice(0, index).findLast(({ kind }) => kind === 'phase' || kind === 'step');
  return above?.kind === 'phase' ? above.y + JOIN_GAP : step.y - 2;
}

/** A bracket along the rounds of a group, right of the line. */
function groupLines(track: SketchTrack, column: Column): readonly SideLine[] {
  return track.groups.flatMap((group, index): SideLine[] => {
    const dots = group.steps.flatMap((step) => dotOf(column, step) ?? []);
    const [first, last] = [dots[0], dots.at(-1)];
    if (!first || !last) return [];
    const x = first.x + 17;
    return [
      {
        kind: 'group',
        key: `group/${track.id}/${index}`,
        d: `M${x + 5} ${first.y - 10}H${x}V${last.y + 12}H${x + 5}`,
        end: null,
      },
    ];
  });
}

interface Feed {
  readonly key: string;
  readonly fromColumn: number;
  readonly toColumn: number;
  readonly from: { readonly x: number; readonly y: number };
  readonly to: { readonly x: number; readonly y: number };
}

/** What a step of one track gives to a hold point of another: a line through the gutter. */
function feedLines(columns: readonly Column[]): readonly SideLine[] {
  const feeds = columns.flatMap((column, toColumn) =>
    column.blocks.flatMap((block) =>
      block.kind === 'hold' ? feedsOf(columns, column, toColumn, block) : [],
    ),
  );
  const gutterOf = ({ fromColumn, toColumn }: Feed) =>
    fromColumn > toColumn ? fromColumn - 1 : fromColumn;
  return columns.flatMap((_, gutter) => {
    const here = feeds.filter((feed) => gutterOf(feed) === gutter);
    const { lanes, laneOf } = assignLanes(
      here.map(({ from, to }) => ({ from: Math.min(from.y, to.y) - 6, to: Math.max(from.y, to.y) + 6 })),
    ); // prettier-ignore
    const gap = Math.min(10, (GUTTER - 24) / Math.max(1, lanes.length));
    const middle = (columns[gutter]?.right ?? 0) + GUTTER / 2;
    return here.map((feed, index): SideLine => {
      const x = middle + (laneOf(index) - (lanes.length - 1) / 2) * gap;
      return {
        kind: 'feed',
        key: feed.key,
        d: feedPath(feed, x),
        end: { ...feed.to, shape: feed.fromColumn > feed.toColumn ? 'left' : 'right' },
      };
    });
  });
}

function feedPath({ from, to }: Feed, x: number): string {
  const [out, back] = [Math.sign(x - from.x), Math.sign(to.x - x)];
  const down = to.y >= from.y ? 1 : -1;
  if (Math.abs(to.y - from.y) < 2 * BEND) return `M${from.x} ${from.y}H${x}V${to.y}H${to.x}`;
  return `M${from.x} ${from.y}H${x - out * BEND}Q${x} ${from.y} ${x} ${from.y + down * BEND}V${to.y - down * BEND}Q${x} ${to.y} ${x + back * BEND} ${to.y}H${to.x}`;
}

function feedsOf(
  columns: readonly Column[],
  column: Column,
  toColumn: number,
  block: PlacedBlock & BlockOf<'hold'>,
): readonly Feed[] {
  let y = block.y + HOLD_TOP + block.title.length * SMALL_LINE;
  const left = textLeft(column.lineX, block.branch);
  return block.conditions.flatMap(({ from, lines }, index): Feed[] => {
    const at = y + SMALL_LINE / 2;
    y += lines.length * SMALL_LINE;
    const feeder = from === null ? null : findStep(columns, from);
    if (!feeder || feeder.index === toColumn) return [];
    const isLeftward = feeder.index > toColumn;
    const dotX = lineXOf(feeder.column, feeder.block);
    const title = feeder.block.title[0] ?? '';
    const fromX = isLeftward
      ? dotX - RADIUS - 1
      : textLeft(feeder.column.lineX, feeder.block.branch) + widthOf(title, TITLE_PX) + 10;
    const toX = isLeftward
      ? left + 20 + widthOf(lines[0] ?? '', SMALL_PX) + 10
      : lineXOf(column, block) - RADIUS - 4;
    return [
      {
        key: `${block.key}/${index}`,
        fromColumn: feeder.index,
        toColumn,
        from: { x: fromX, y: feeder.block.y + DOT_Y - 4 + (index % 3) * 3 },
        to: { x: toX, y: at },
      },
    ];
  });
}
