/** What a case's usual ranges, costs and misheard words are called on screen and on paper. Pure. */
import type { CaptureValue } from '../../domain';
import type { CostRow, LateCue, MisheardRow, UsualRange } from '../../review';
import { elapsedToText, minutesToText, timeOfDayToSeconds } from '../parts/format';
import { minText } from './chart-text';
import type { Review } from './review-model.svelte';

const MINUTE_MS = 60_000;
const COSTS = { held: 'Clock held', again: 'Done again', longer: 'Longer than usual' } as const;
const LATE_ENDS = {
  ready: '',
  overridden: 'passed by override',
  left: 'not waited for',
  waiting: 'still awaited',
} as const;
const ENDS = {
  'not understood': 'not understood',
  corrected: 'corrected',
  'taken back': 'taken back',
  lapsed: 'lapsed',
  undone: 'carried out, then taken back',
} as const;

/** A sign and a word, so that no colour is needed. */
export const SIDE_SIGNS = { longer: '▲ longer', shorter: '▼ shorter' } as const;

/** "8 to 14 min", between which four of five of the team's cases lie; with too few for that "usual 12 min" of the procedure; a dash without either. */
export function rangeText(range: UsualRange | undefined, usualMs: number | null): string {
  if (range && range.lowMs !== null && range.highMs !== null)
    return `${minText(range.lowMs / MINUTE_MS)} to ${minText(range.highMs / MINUTE_MS)} min`;
  return usualMs === null ? '–' : `usual ${minutesToText(usualMs)}`;
}

export function costText({ kind, text, count, ms, isBeside }: CostRow): readonly string[] {
  const why = isBeside ? `Beside: ${COSTS[kind].toLowerCase()}` : COSTS[kind];
  return [why, count > 1 ? `${text}, ${count} times` : text, elapsedToText(ms)];
}

/** What was late, which step waited, since when, how long, and how that ended. */
export function lateCells({ cues, step, from, ms, isEstimated, end }: LateCue): readonly string[] {
  const took = `${elapsedToText(ms)}${isEstimated ? ' ~' : ''}`;
  return [cues.join(', '), step, timeOfDayToSeconds(from.at), took, LATE_ENDS[end]];
}

/** Heard, when, taken for, and how it was settled. */
export function misheardCells({ captures }: Review, row: MisheardRow): readonly string[] {
  const { offered, settled, end } = row;
  const heard = [row.words === null ? 'speech' : `“${row.words}”`, timeOfDayToSeconds(row.at.at)];
  if (offered === null)
    return [
      ...heard,
      ENDS[end],
      row.next === null ? 'nothing more understood' : `next: “${row.next}”`,
    ];
  const capture = captures.find(({ id }) => id === offered.capture);
  const say = (value: CaptureValue) => capture?.toText(value) ?? String(value);
  return [
    ...heard,
    `${capture?.label ?? offered.capture} ${say(offered.value)}, ${ENDS[end]}`,
    settled === null
      ? 'never settled'
      : `${say(settled.value)}, ${settled.source === 'voice' ? 'by voice' : 'at the desk'}`,
  ];
}
