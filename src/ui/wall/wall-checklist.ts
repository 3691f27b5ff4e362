/** Which lines of a checklist are drawn below the one in hand. Pure. */
import type { ChecklistView } from '../../session';

type Line = ChecklistView['items'][number];

/** The line to answer now; null where all are answered. */
export function openLineOf({ items }: ChecklistView): Line | null {
  return items.find(({ answer }) => answer === null) ?? null;
}

export interface CheckRows {
  readonly shown: readonly Line[];
  /** Answered lines that are not drawn. */
  readonly before: number;
  /** Open lines that are not drawn, the one in hand aside. */
  readonly after: number;
  /** How many have no answer yet. */
  readonly open: number;
}

/**
 * The other lines in their order, as many as there is room for: what was answered with
 * no always, then what comes next, then what was answered last.
 */
export function checkRowsOf(list: ChecklistView, room: number): CheckRows {
  const here = openLineOf(list);
  const others = list.items.filter((line) => line !== here);
  const open = list.items.filter(({ answer }) => answer === null).length;
  if (others.length <= room) return { shown: others, before: 0, after: 0, open };
  const rank = (line: Line) => {
    const at = list.items.indexOf(line);
    if (line.answer === 'no') return at - 2 * list.items.length;
    return line.answer === null ? at - list.items.length : list.items.length - at;
  };
  // Two rows are kept for how many are not drawn.
  const kept = new Set(
    others.toSorted((a, b) => rank(a) - rank(b)).slice(0, Math.max(1, room - 2)),
  );
  const shown = others.filter((line) => kept.has(line));
  const left = others.filter((line) => !kept.has(line));
  const after = left.filter(({ answer }) => answer === null).length;
  return { shown, before: left.length - after, after, open };
}
