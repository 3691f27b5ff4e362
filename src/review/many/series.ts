/** One duration over time, case by case: what the charts of change are drawn from. */
import type { CaseId } from '../../domain';
import type { CaseTable, Row } from './case-table';
import { phaseKey } from './phase-summary';

export interface SeriesPoint {
  readonly caseId: CaseId;
  /** When the case was opened. */
  readonly at: number;
  /** Place among the cases that are numbered, from 1: the case number of the learning curve. */
  readonly number: number;
  readonly minutes: number;
}

/** The series of a phase ("track/phase") or, with null, of whole cases. First passes only where `withLoops` is false, so that a repeat is not taken for slowness. `numbered` are the cases that case numbers are counted over: more than the rows where a filter shows a part of what a team has done. */
export function makeSeries(
  table: CaseTable,
  rows: readonly Row[],
  key: string | null,
  withLoops = true,
  numbered: readonly Row[] = rows,
): readonly SeriesPoint[] {
  const numbers = new Map(numbered.map((row, index) => [row, index + 1]));
  const { openedAt } = table.columns;
  const kinds = key === null ? null : kindsOf(table, key);
  return rows.flatMap((row): SeriesPoint[] => {
    const ms = kinds === null ? wholeCase(table, row) : onePhase(table, row, kinds, withLoops);
    const caseId = table.caseIds[row];
    return caseId === undefined || !(ms > 0)
      ? []
      : [{ caseId, at: openedAt.at(row), number: numbers.get(row) ?? NaN, minutes: ms / 60_000 }];
  });
}

/** Not a number where the case is no measure. */
function wholeCase(table: CaseTable, row: Row): number {
  const isNoMeasure = table.is(row, 'estimated') || table.is(row, 'abandoned');
  return isNoMeasure ? NaN : table.columns.totalMs.at(row);
}

/** Not a number where the case has no such phase, or it is no measure. */
function onePhase(
  table: CaseTable,
  row: Row,
  kinds: ReadonlySet<number>,
  withLoops: boolean,
): number {
  const { phaseKind, phaseIsWhole, phaseMs, phaseFirstMs } = table.columns;
  const { from, to } = table.spanOf('phases', row);
  for (let place = from; place < to; place += 1) {
    if (!kinds.has(phaseKind.at(place))) continue;
    if (phaseIsWhole.at(place) === 0) return NaN;
    return (withLoops ? phaseMs : phaseFirstMs).at(place);
  }
  return NaN;
}

/** The codes of a phase, under whatever title and usual time it went. */
function kindsOf(table: CaseTable, key: string): ReadonlySet<number> {
  const { phaseKind } = table.columns;
  const codes = new Set<number>();
  for (let place = 0; place < phaseKind.length; place += 1) codes.add(phaseKind.at(place));
  return new Set([...codes].filter((code) => phaseKey(table.phaseKindOf(code)) === key));
}
