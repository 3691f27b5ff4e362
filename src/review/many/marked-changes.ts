/**
 * Changes that a team marked ("new tray from here"): of which cases, of which procedure
 * and, where it was one phase only, of which phase. Charts are split there.
 */
import type { CaseMode } from '../../domain';
import type { ChangeMark } from '../statistics/segments';
import type { CaseFilter } from './filters';

export interface MarkedChange extends ChangeMark {
  /** Real, rehearsed and demo cases are never mixed, nor are their marks. */
  readonly mode: CaseMode;
  /** Null for every procedure. */
  readonly procedureId: string | null;
  /** "track/phase"; null for every phase and whole cases. */
  readonly key: string | null;
}

/** The marks that split a chart of these cases. Where all procedures are looked at together a change in one is a change of all. */
export function marksFor(
  marks: readonly MarkedChange[],
  { mode, procedureId }: Pick<CaseFilter, 'mode' | 'procedureId'>,
  key: string | null,
): readonly MarkedChange[] {
  return marks.filter(
    (mark) =>
      mark.mode === mode &&
      (mark.procedureId === null || procedureId === null || mark.procedureId === procedureId) &&
      (mark.key === null || mark.key === key),
  );
}

/** Both lists in order of time, marks of one moment in order of their text; each mark once. */
export function mergeMarks(
  known: readonly MarkedChange[],
  brought: readonly MarkedChange[],
): readonly MarkedChange[] {
  const byText = new Map([...known, ...brought].map((mark) => [markToKey(mark), mark]));
  return [...byText]
    .sort(([aText, a], [bText, b]) => a.at - b.at || (aText < bText ? -1 : 1))
    .map(([, mark]) => mark);
}

/** The same for two marks that say the same. */
export function markToKey({ mode, procedureId, key, at, label }: MarkedChange): string {
  return JSON.stringify([mode, procedureId, key, at, label]);
}
