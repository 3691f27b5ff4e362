/**
 * Where everything on the line drawing goes: which steps around now are in the
 * window, at what height, and what is said of those beyond it. Heights in wall
 * units. Made from the tracks alone, so that the drawing can't say anything else.
 */
import type { HoldPointView, StepView, TrackView } from '../../session';
import { chooseWindow, hereOf } from './line-window';
import type { WindowItem } from './line-window';

/** Height of a row by what it holds, before free room is shared out. */
export const ROW_HEIGHT = { step: 58, now: 74, nowTall: 92, gate: 52, beyond: 50 } as const;
/** How long may the words of a step in hand be to stay on one line in bold? */
const ONE_LINE_CHARS = 15;
/** How far apart may rows be drawn at most? Beyond it the line would fall apart. */
const MOST_STRETCH = 1.3;

export interface StepRow {
  readonly kind: 'step';
  readonly track: number;
  readonly step: StepView;
  readonly isNow: boolean;
  /** Middle of the row. */
  readonly y: number;
  /** A hold point in front of it that is drawn without words. */
  readonly bareGate: 'open' | 'closed' | null;
}

export interface GateRow {
  readonly kind: 'gate';
  readonly track: number;
  readonly step: StepView;
  readonly state: 'closed' | 'refused' | 'overridden';
  readonly text: string;
  readonly isNow: boolean;
  readonly y: number;
}

export interface BeyondRow {
  readonly kind: 'beyond';
  readonly text: string;
  readonly y: number;
}

export type LineRow = StepRow | GateRow | BeyondRow;

/** One track's line: from where to where, and where done turns into ahead. */
export interface Rail {
  readonly track: number;
  readonly top: number;
  readonly turn: number;
  readonly bottom: number;
  readonly startsHere: boolean;
  readonly endsHere: boolean;
}

export interface LoopArc {
  readonly track: number;
  readonly from: number;
  /** Null where it leads back to a step above the window. */
  readonly to: number | null;
  readonly rounds: number;
}

export interface LineLayout {
  readonly rows: readonly LineRow[];
  readonly rails: readonly Rail[];
  readonly arcs: readonly LoopArc[];
  /** The band behind what is in hand. */
  readonly now: { readonly top: number; readonly bottom: number } | null;
}

export interface LineInput {
  readonly tracks: readonly TrackView[];
  readonly holdPoints: readonly HoldPointView[];
  /** The hold point that refused last, if nothing has followed. */
  readonly refusedAt: HoldPointView['id'] | null;
}

/** Lays the line out in a column of the given height. */
export function layoutLine(input: LineInput, height: number): LineLayout {
  const room = height - 2 * ROW_HEIGHT.beyond;
  const items = chooseWindow(input.tracks, room, (track, index) => itemHeight(input, track, index));
  const drafts = items.flatMap((item) => draftRows(input, item));
  const { before, after } = countBeyond(input.tracks, items);
  const heights = drafts.map(heightOf);
  const free = Math.max(0, height - sum(heights) - 2 * ROW_HEIGHT.beyond);
  const stretch = Math.min(MOST_STRETCH, 1 + free / Math.max(1, sum(heights)));
  let y: number = ROW_HEIGHT.beyond;
  const placed = drafts.map((row, index): StepRow | GateRow => {
    const own = (heights[index] ?? 0) * stretch;
    y += own;
    return { ...row, y: y - own / 2 };
  });
  const rows: LineRow[] = [
    ...(before > 0 ? [beyondRow(`${before} before`, ROW_HEIGHT.beyond / 2)] : []),
    ...placed,
    ...(after > 0 ? [beyondRow(`${after} more ahead`, y + ROW_HEIGHT.beyond / 2)] : []),
  ];
  const end = after > 0 ? y + ROW_HEIGHT.beyond : y;
  return {
    rows,
    rails: input.tracks.map((track, index) => railOf(track, index, placed, end)),
    arcs: input.tracks.flatMap((track, index) => arcsOf(track, index, placed)),
    now: bandOf(placed, stretch),
  };
}

function heightOf(row: Draft): number {
  if (row.kind === 'gate') return ROW_HEIGHT.gate;
  if (!row.isNow) return ROW_HEIGHT.step;
  return row.step.short.length > ONE_LINE_CHARS ? ROW_HEIGHT.nowTall : ROW_HEIGHT.now;
}

function itemHeight(input: LineInput, track: number, index: number): number {
  return sum(draftRows(input, { track, index }).map(heightOf));
}

type Draft = Omit<StepRow, 'y'> | Omit<GateRow, 'y'>;

function draftRows(input: LineInput, { track, index }: WindowItem): readonly Draft[] {
  const view = input.tracks[track];
  const step = view?.steps[index];
  if (!view || !step) return [];
  const isNow = index === hereOf(view) && view.state !== 'done';
  const gate = gateOf(input, step);
  const hasWords = gate !== null && (track === 0 || gate.state !== 'closed');
  const bareGate = step.holdPoint === null || hasWords ? null : gate ? 'closed' : 'open';
  const row: Draft = { kind: 'step', track, step, isNow, bareGate };
  return hasWords ? [{ kind: 'gate', track, step, isNow, ...gate }, row] : [row];
}

function gateOf(
  { holdPoints, refusedAt }: LineInput,
  { holdPoint, place }: StepView,
): Pick<GateRow, 'state' | 'text'> | null {
  if (!holdPoint) return null;
  const point = holdPoints.find(({ id }) => id === holdPoint.id);
  if (point?.state === 'overridden') return { state: 'overridden', text: 'Overridden' };
  if (holdPoint.isOpen || place === 'done' || place === 'skipped') return null;
  return holdPoint.id === refusedAt
    ? { state: 'refused', text: `Not yet: ${holdPoint.missing} missing` }
    : { state: 'closed', text: `Hold: ${holdPoint.missing} missing` };
}

function countBeyond(
  tracks: readonly TrackView[],
  items: readonly WindowItem[],
): { readonly before: number; readonly after: number } {
  const counts = tracks.map(({ steps }, track) => {
    const shown = items.filter((item) => item.track === track).map(({ index }) => index);
    const first = Math.min(...shown, steps.length);
    return { before: first, after: Math.max(0, steps.length - first - shown.length) };
  });
  return {
    before: sum(counts.map(({ before }) => before)),
    after: sum(counts.map(({ after }) => after)),
  };
}

function railOf(
  { steps, state }: TrackView,
  track: number,
  rows: readonly (StepRow | GateRow)[],
  end: number,
): Rail {
  const own = rows.filter((row): row is StepRow => row.kind === 'step' && row.track === track);
  const [first] = own;
  const last = own.at(-1);
  const startsHere = first !== undefined && first.step === steps[0];
  const endsHere = last !== undefined && last.step === steps.at(-1);
  const top = startsHere ? first.y : 0;
  const bottom = endsHere ? last.y : end;
  const now = own.find(({ isNow }) => isNow);
  const lastPassed = own.findLast(({ step }) => step.place === 'done' || step.place === 'skipped');
  const turn = state === 'done' ? bottom : (now?.y ?? lastPassed?.y ?? top);
  return { track, top, turn, bottom, startsHere, endsHere };
}

function arcsOf(
  { steps }: TrackView,
  track: number,
  rows: readonly (StepRow | GateRow)[],
): readonly LoopArc[] {
  const own = rows.filter((row): row is StepRow => row.kind === 'step' && row.track === track);
  return own.flatMap(({ step, y }) => {
    if (step.loopsTo === null) return [];
    const target = own.find((row) => row.step.id === step.loopsTo);
    const rounds = steps.find(({ id }) => id === step.loopsTo)?.rounds ?? 0;
    return [{ track, from: y, to: target?.y ?? null, rounds }];
  });
}

function bandOf(rows: readonly (StepRow | GateRow)[], stretch: number): LineLayout['now'] {
  const now = rows.filter(({ isNow }) => isNow);
  const [first] = now;
  const last = now.at(-1);
  if (!first || !last) return null;
  const half = (row: StepRow | GateRow) => (heightOf(row) * stretch) / 2;
  return { top: first.y - half(first), bottom: last.y + half(last) };
}

function beyondRow(text: string, y: number): BeyondRow {
  return { kind: 'beyond', text, y };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
