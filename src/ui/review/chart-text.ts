/** Figures of the charts as text. */
import { dayToText } from '../parts/format';
import type { ManyAnswer, SeriesPoint } from '../../review';

/** Minutes with one decimal below ten; a dash where there are none. */
export function minText(value: number | null | undefined): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return '–';
  return value < 10 ? value.toFixed(1) : value.toFixed(0);
}

/** The first cells of a row of any series: number, day, minutes. */
export function pointCells({ number, at, minutes }: SeriesPoint): readonly string[] {
  return [String(number), dayToText(at), minText(minutes)];
}

/** Which procedure times are of, to stand in front of them; nothing where all cases are of one. */
export function sayWhose({ procedures, timesOf }: ManyAnswer): string {
  return procedures.length > 1 && timesOf ? `${timesOf.title}: ` : '';
}
