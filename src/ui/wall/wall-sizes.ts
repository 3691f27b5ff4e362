/**
 * Which lines of the sizes fit, and which need two: a long choice, four screws.
 * Widths are estimated from the number of characters, on the wide side.
 */
import type { SizeRow } from '../../session';

export type SizePart = SizeRow['parts'][number];

export interface SizeLine {
  readonly label: string;
  /** Several things on one line each get their own plate. */
  readonly isGroup: boolean;
  readonly isTall: boolean;
  /** Somebody has just asked for it. */
  readonly isAsked: boolean;
  readonly parts: readonly SizePart[];
  /** How many parts of a long group are not drawn. */
  readonly hiddenBefore: number;
}

export interface SizesLayout {
  readonly lines: readonly SizeLine[];
  readonly before: number;
  readonly after: number;
}

/** Widths in wall units: the room of a line, and what a character takes. */
const LINE_WIDTH = 366;
const LABEL_CHAR = 23;
const VALUE_CHAR = 29;
const GROUP_CHAR = 25;
const UNIT_CHAR = 22;
const PART_PADDING = 18;
/** Heights in wall units. */
export const SIZE_HEIGHT = { line: 66, tall: 122, beyond: 50 } as const;
/** How many parts of a group can be drawn on a line of their own? */
const MOST_PARTS = 5;

/** Lays the sizes out in a column of the given height. */
export function layoutSizes(rows: readonly SizeRow[], height: number): SizesLayout {
  const lines = rows.map(toLine);
  const total = lines.reduce((sum, line) => sum + heightOf(line), 0);
  if (total <= height) return { lines, before: 0, after: 0 };
  const here = focusOf(lines);
  let left = height - 2 * SIZE_HEIGHT.beyond;
  let first = here;
  let end = here;
  const take = (index: number): boolean => {
    const line = lines[index];
    if (!line || heightOf(line) > left) return false;
    left -= heightOf(line);
    return true;
  };
  for (let grows = true; grows;) {
    const isLater = take(end);
    if (isLater) end += 1;
    const isEarlier = take(first - 1);
    if (isEarlier) first -= 1;
    grows = isLater || isEarlier;
  }
  return { lines: lines.slice(first, end), before: first, after: lines.length - end };
}

/** What stands for a part: its value, a question mark or a dash. */
export function signOf({ state, text }: SizePart): string {
  if (state === 'ahead') return '–';
  if (state === 'doubtful') return `? ${text}`;
  return state === 'wanted' ? '?' : text;
}

/** The line that somebody asked for; else that at which the case stands: the first that is not settled, or the last. */
function focusOf(lines: readonly SizeLine[]): number {
  const isOpen = ({ parts }: SizeLine, states: readonly string[]) =>
    parts.some(({ state }) => states.includes(state));
  const asked = lines.findIndex(({ isAsked }) => isAsked);
  if (asked >= 0) return asked;
  const active = lines.findIndex((line) => isOpen(line, ['offered', 'wanted']));
  if (active >= 0) return active;
  const ahead = lines.findIndex((line) => isOpen(line, ['ahead']));
  return ahead >= 0 ? ahead : Math.max(0, lines.length - 1);
}

function toLine({ label, parts, isAsked }: SizeRow): SizeLine {
  const isGroup = parts.length > 1;
  const hiddenBefore = Math.max(0, Math.min(firstOpen(parts) + 1, parts.length) - MOST_PARTS);
  const shown = parts.slice(hiddenBefore, hiddenBefore + MOST_PARTS);
  const width = shown.reduce((sum, part) => sum + partWidth(part, isGroup), 0);
  const isTall = label.length * LABEL_CHAR + PART_PADDING + width > LINE_WIDTH;
  return { label, isGroup, isTall, isAsked, parts: shown, hiddenBefore };
}

function firstOpen(parts: readonly SizePart[]): number {
  const index = parts.findIndex(({ state }) => state !== 'settled');
  return index < 0 ? parts.length - 1 : index;
}

function partWidth({ text, unit, state, differsFromPlan }: SizePart, isGroup: boolean): number {
  const sign = state === 'offered' ? 1 : state === 'settled' ? 0 : text === '' ? 1 : 0;
  const units = isGroup ? 0 : unit.length * UNIT_CHAR;
  const plan = differsFromPlan && !isGroup ? 2 * LABEL_CHAR : 0;
  const padding = isGroup && state !== 'ahead' ? PART_PADDING : PART_PADDING / 2;
  return (text.length + sign) * (isGroup ? GROUP_CHAR : VALUE_CHAR) + units + plan + padding;
}

function heightOf({ isTall }: SizeLine): number {
  return isTall ? SIZE_HEIGHT.tall : SIZE_HEIGHT.line;
}
