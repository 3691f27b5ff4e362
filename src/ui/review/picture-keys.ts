/** What the shapes in the picture of one case mean; only those that are in it. Pure. */
import type { Mark, Timeline, TimelineStep } from '../../review';
import { placeKeys } from './chart-keys';
import { MARK_NAMES } from './mark-text';

/** How the bar of a step is drawn. */
export type BarKind = 'step' | 'again' | 'cut';
export const BAR_NAMES: Readonly<Record<BarKind, string>> = {
  step: 'step in hand',
  again: 'done again',
  cut: 'left out or broken off',
};

export interface PictureKey {
  readonly kind: Mark['kind'] | BarKind | 'wait' | 'clock';
  readonly text: string;
}

export const PICTURE_KEY_ROW = 24;

/** The kinds of marks of a case, each once. */
export function kindsOfMarks({ marks }: Timeline): readonly Mark['kind'][] {
  return [...new Set(marks.map(({ kind }) => kind))];
}

/** A step that was not carried through is drawn empty, also where it was done again. */
export function barKindOf({ ending, round }: TimelineStep): BarKind {
  const isCut = ending === 'skipped' || ending === 'reopened' || ending === 'held' || ending === 'moved'; // prettier-ignore
  return isCut ? 'cut' : round > 1 ? 'again' : 'step';
}

/** The kinds of bars of a case, in the order of their names. */
export function kindsOfBars({ lanes }: Timeline): readonly BarKind[] {
  const found = new Set(lanes.flatMap(({ steps }) => steps.map(barKindOf)));
  return (['step', 'again', 'cut'] as const).filter((kind) => found.has(kind));
}

/** The keys in rows below the picture. */
export function layOutPictureKeys(timeline: Timeline, width: number) {
  const all: readonly PictureKey[] = [
    ...kindsOfBars(timeline).map((kind) => ({ kind, text: BAR_NAMES[kind] })),
    { kind: 'wait', text: 'between steps' },
    ...(timeline.clockHolds.length > 0 ? [{ kind: 'clock' as const, text: 'clock held' }] : []),
    ...kindsOfMarks(timeline).map((kind) => ({ kind, text: MARK_NAMES[kind].toLowerCase() })),
  ];
  const keys = placeKeys(all, 0, width);
  const rows = Math.max(0, ...keys.map(({ row }) => row + 1));
  return { keys, height: rows * PICTURE_KEY_ROW + 6 };
}
