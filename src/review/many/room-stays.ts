/**
 * Who lay in which room from when to when, out of the columns. Where in and out were not
 * marked, opening and closing of the case stand in. What can't be a stay is counted, not used.
 */
import type { CaseTable, Row } from './case-table';

export interface Stay {
  /** Code of the theatre's label; cases without one share the code of the empty text. */
  readonly room: number;
  readonly from: number;
  readonly to: number;
  readonly isMarked: boolean;
}

/** Longer than this a case was left open by mistake. Our own choice; no operation here lasts a day. */
const LONGEST_STAY_MS = 86_400_000;

/** The stays, the earliest first; `unusable` are those that end before they begin or last longer than a day. */
export function listStays(
  { columns }: CaseTable,
  rows: readonly Row[],
): { readonly stays: readonly Stay[]; readonly unusable: number } {
  const { openedAt, closedAt, PIR, POR, theatre } = columns;
  const all = rows.map((row): Stay => {
    const opened = openedAt.at(row);
    return {
      room: theatre.at(row),
      from: known(PIR.at(row), opened),
      to: known(POR.at(row), known(closedAt.at(row), opened)),
      isMarked: !Number.isNaN(PIR.at(row) + POR.at(row)),
    };
  });
  const stays = all
    .filter(({ from, to }) => to >= from && to - from <= LONGEST_STAY_MS)
    .sort((a, b) => a.from - b.from);
  return { stays, unusable: all.length - stays.length };
}

/** A time, or what stands in where it was not marked. */
function known(at: number, instead: number): number {
  return Number.isNaN(at) ? instead : at;
}
