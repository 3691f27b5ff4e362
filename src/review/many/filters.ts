/** Which cases are looked at together. Real, rehearsed and demo cases are never mixed. */
import type { CaseMode, Side } from '../../domain';
import type { CaseTable, Row } from './case-table';
import type { Numbers } from './numbers';
import type { Words } from './words';

/** What is asked for; null asks for nothing in particular. */
export interface CaseFilter {
  readonly mode: CaseMode;
  readonly procedureId: string | null;
  readonly side: Side | null;
  /** Role label. */
  readonly role: string | null;
  /** Wall times in milliseconds, the second one not included. */
  readonly from: number | null;
  readonly to: number | null;
  readonly alternative: string | null;
  readonly cards: 'with' | 'without' | null;
}

/** What can be asked for, from the cases that there are. */
export interface FilterChoices {
  readonly modes: readonly CaseMode[];
  readonly procedures: readonly { readonly id: string; readonly title: string }[];
  readonly roles: readonly string[];
  readonly alternatives: readonly string[];
}

/** The cases that a filter lets through, oldest first. Only closed cases are looked back on. */
export function filterCases(table: CaseTable, filter: CaseFilter): readonly Row[] {
  const { columns: it, words } = table;
  const { procedureId, side, role, alternative, cards, from, to } = filter;
  /** What is asked of a column of codes; nothing where any will do. */
  const asked = [
    [it.mode, filter.mode],
    [it.procedure, procedureId],
    [it.side, side],
  ] as const;
  const codes = asked.flatMap(([column, word]) =>
    word === null ? [] : [{ column, code: words.find(word) }],
  );
  const roleCode = role === null ? null : words.find(role);
  const alternativeCode = alternative === null ? null : words.find(alternative);
  return table.order.filter(
    (row) =>
      codes.every(({ column, code }) => column.at(row) === code) &&
      !Number.isNaN(it.closedAt.at(row)) &&
      it.openedAt.at(row) >= (from ?? -Infinity) &&
      it.openedAt.at(row) < (to ?? Infinity) &&
      (roleCode === null || isListed(table, 'roles', row, roleCode)) &&
      (alternativeCode === null || isListed(table, 'alternatives', row, alternativeCode)) &&
      (cards === null || table.is(row, 'cards') === (cards === 'with')),
  );
}

function isListed(table: CaseTable, list: 'roles' | 'alternatives', row: Row, code: number) {
  const column = list === 'roles' ? table.columns.role : table.columns.alternative;
  const { from, to } = table.spanOf(list, row);
  for (let place = from; place < to; place += 1) if (column.at(place) === code) return true;
  return false;
}

/** The choices, in the order of the alphabet; modes with real cases first. */
export function listChoices(table: CaseTable): FilterChoices {
  const { columns: it, words } = table;
  const modes = new Set(table.order.map((row) => words.textOf(it.mode.at(row))));
  // Of a procedure whose title was changed the latest one stands.
  const titles = new Map(table.order.map((row) => [it.procedure.at(row), it.title.at(row)]));
  return {
    modes: (['real', 'rehearsal', 'demo'] as const).filter((mode) => modes.has(mode)),
    procedures: [...titles].map(([id, title]) => ({
      id: words.textOf(id),
      title: words.textOf(title),
    })),
    roles: listWords(words, it.role),
    alternatives: listWords(words, it.alternative),
  };
}

function listWords(words: Words, column: Numbers): readonly string[] {
  const codes = new Set<number>();
  for (let place = 0; place < column.length; place += 1) codes.add(column.at(place));
  return [...codes].map((code) => words.textOf(code)).sort();
}
