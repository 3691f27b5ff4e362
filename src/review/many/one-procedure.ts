/**
 * Times are of one procedure. Whole cases of different operations don't take equally
 * long, and phases of one name need not be the same work: mixed, their spread and every
 * change among them would say which operations were done, not how they went.
 */
import type { CaseTable, Row } from './case-table';

/** A procedure among some cases, and how many of them are of it. */
export interface ProcedureShare {
  readonly id: string;
  readonly title: string;
  readonly caseCount: number;
}

/** The procedures of these cases (rows oldest first), the most frequent first; of equals the one done last. Of a title that was changed the latest stands. */
export function listProcedures(
  { columns, words }: CaseTable,
  rows: readonly Row[],
): readonly ProcedureShare[] {
  const counts = new Map<number, number>();
  const titles = new Map<number, number>();
  // The latest cases first, so that of equals the one done last stays in front.
  for (const row of rows.toReversed()) {
    const code = columns.procedure.at(row);
    counts.set(code, (counts.get(code) ?? 0) + 1);
    if (!titles.has(code)) titles.set(code, columns.title.at(row));
  }
  return [...counts]
    .sort(([, a], [, b]) => b - a)
    .map(([code, caseCount]) => ({
      id: words.textOf(code),
      title: words.textOf(titles.get(code) ?? code),
      caseCount,
    }));
}

/** The procedure whose times are shown: the one that was asked for, else the most frequent; null without cases. */
export function chooseProcedure(
  procedures: readonly ProcedureShare[],
  asked: string | null,
): ProcedureShare | null {
  return procedures.find(({ id }) => id === asked) ?? procedures[0] ?? null;
}

/** The cases of one procedure, in their order. */
export function rowsOfProcedure(
  { columns, words }: CaseTable,
  rows: readonly Row[],
  procedureId: string | null,
): readonly Row[] {
  const code = procedureId === null ? -1 : words.find(procedureId);
  return rows.filter((row) => columns.procedure.at(row) === code);
}
