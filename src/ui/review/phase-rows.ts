/** The timing table in text: phases by track, with their steps under them. Pure. */
import type { Outline } from '../../domain';
import { compareToUsual } from '../../review';
import type { PhaseRow, StepRow, UsualRange } from '../../review';
import { elapsedToText, minutesToText, timeOfDayToText } from '../parts/format';
import { rangeText, SIDE_SIGNS } from './case-words';

/** Heads of the timing table. */
export const PHASE_HEADS = [
  'Phase', 'From', 'To', 'Total', 'Work', 'Waiting', 'Clock held', 'Repeats', 'Usual', 'Team’s usual',
] as const; // prettier-ignore

/** Columns that hold figures. */
export const PHASE_NUMERIC = [1, 2, 3, 4, 5, 6, 7, 8, 9] as const;

/** What stands beside a duration that the wall clock had to give. */
export const ESTIMATED = '~ wall clock';

export interface TableRow {
  readonly cells: readonly string[];
  readonly isPart: boolean;
}

/** Rows of one track, numbered as in the picture. */
export function phaseRows(
  track: Outline['tracks'][number],
  phases: readonly PhaseRow[],
  steps: readonly StepRow[],
  ranges: ReadonlyMap<string, UsualRange>,
): readonly TableRow[] {
  return phases.flatMap((phase, index) =>
    phase.track === track.id
      ? [
          {
            cells: phaseCells(phase, index + 1, ranges.get(`${phase.track}/${phase.phase}`)),
            isPart: false,
          },
          ...steps
            .filter((step) => step.phase === phase.phase && step.track === phase.track)
            .map((step) => ({ cells: stepCells(step), isPart: true })),
        ]
      : [],
  );
}

function phaseCells(
  row: PhaseRow,
  place: number,
  range: UsualRange | undefined,
): readonly string[] {
  const side = row.isEstimated ? null : compareToUsual(row.totalMs, range);
  return [
    `${place} ${row.title}`,
    timeOfDayToText(row.from.at),
    row.to ? timeOfDayToText(row.to.at) : 'runs',
    withEstimate(elapsedToText(row.totalMs), row.isEstimated),
    elapsedToText(row.workMs),
    elapsedToText(row.waitMs),
    row.clockHeldMs > 0 ? elapsedToText(row.clockHeldMs) : '–',
    row.repeats > 0 ? String(row.repeats) : '–',
    row.usualMs === null ? '–' : minutesToText(row.usualMs),
    `${rangeText(range, null)}${side === null ? '' : ` ${SIDE_SIGNS[side]}`}`,
  ];
}

const ENDINGS: Readonly<Record<NonNullable<StepRow['ending']>, string>> = {
  finished: '',
  reopened: ', gone back on',
  held: ', held',
  skipped: ', left out',
  left: ', group ended',
  leftOut: ', not needed',
  moved: ', another way taken',
  closed: ', open at the end',
};

function stepCells(row: StepRow): readonly string[] {
  return [
    `${row.title}${row.ending === null ? ', in hand' : ENDINGS[row.ending]}`,
    timeOfDayToText(row.from.at),
    '',
    '',
    withEstimate(elapsedToText(row.workMs), row.isEstimated),
    '',
    '',
    row.rounds > 1 ? String(row.rounds - 1) : '',
    '',
    '',
  ];
}

/** Marks a duration that was estimated. */
export function withEstimate(text: string, isEstimated: boolean): string {
  return isEstimated ? `${text} ${ESTIMATED}` : text;
}
