/** What the shapes in the picture of one case mean; only those that are in it. Pure. */
import type { Timeline } from '../../review';
import type { Mark } from '../../review';
import { placeKeys } from './chart-keys';
import { MARK_NAMES } from './mark-text';

export interface PictureKey {
  readonly kind: Mark['kind'] | 'step' | 'wait' | 'clock';
  readonly text: string;
}

export const PICTURE_KEY_ROW = 24;

/** The kinds of marks of a case, each once. */
export function kindsOfMarks({ marks }: Timeline): readonly Mark['kind'][] {
  return [...new Set(marks.map(({ kind }) => kind))];
}

/** The keys in rows below the picture. */
export function layOutPictureKeys(timeline: Timeline, width: number) {
  const all: readonly PictureKey[] = [
    { kind: 'step', text: 'step in hand' },
    { kind: 'wait', text: 'between steps' },
    ...(timeline.clockHolds.length > 0 ? [{ kind: 'clock' as const, text: 'clock held' }] : []),
    ...kindsOfMarks(timeline).map((kind) => ({ kind, text: MARK_NAMES[kind].toLowerCase() })),
  ];
  const keys = placeKeys(all, 0, width);
  const rows = Math.max(0, ...keys.map(({ row }) => row + 1));
  return { keys, height: rows * PICTURE_KEY_ROW + 6 };
}
