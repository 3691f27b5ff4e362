/** Figures of the charts as text. */
import { dayToText } from '../parts/format';
import type { SeriesPoint } from '../../review';

/** Minutes with one decimal below ten; a dash where there are none. */
export function minText(value: number | null | undefined): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return '–';
  return value < 10 ? value.toFixed(1) : value.toFixed(0);
}

/** The first cells of a row of any series: number, day, minutes. */
export function pointCells({ number, at, minutes }: SeriesPoint): readonly string[] {
  return [String(number), dayToText(at), minText(minutes)];
}
