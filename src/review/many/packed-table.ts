/**
 * A table of cases as one text and one run of bytes, to be kept: words, case ids and
 * the columns' lengths, and the columns as they lie in memory. Written and read by the
 * same machine only, so the order of bytes is its own.
 */
import type { CaseId } from '../../domain';
import { CaseTable, makeColumns } from './case-table';
import type { Columns } from './case-table';
import { Numbers } from './numbers';

/** Raised whenever the same digests would give another packed table. */
export const TABLE_LAYOUT = 2;

export interface PackedTable {
  readonly header: string;
  readonly numbers: Uint8Array<ArrayBuffer>;
}

interface Header {
  readonly words: readonly string[];
  readonly caseIds: readonly CaseId[];
  /** Name and number of values of each column, in the order in which they lie. */
  readonly columns: readonly (readonly [string, number])[];
}

/** Columns begin at multiples of eight, where every kind of number may. */
const padded = (length: number) => Math.ceil(length / 8) * 8;

export function packTable({ columns, words, caseIds }: CaseTable): PackedTable {
  const all = Object.entries(columns);
  const header: Header = {
    words: words.texts,
    caseIds,
    columns: all.map(([name, { length }]) => [name, length]),
  };
  const numbers = new Uint8Array(all.reduce((sum, [, it]) => sum + padded(it.bytes.length), 0));
  let offset = 0;
  for (const [, { bytes }] of all) {
    numbers.set(bytes, offset);
    offset += padded(bytes.length);
  }
  return { header: JSON.stringify(header), numbers };
}

/** The table of what `packTable` made; null where it is of another kind or cut short. */
export function unpackTable({ header, numbers }: PackedTable): CaseTable | null {
  try {
    const { words, caseIds, columns: lengths } = JSON.parse(header) as Header;
    const columns: Record<string, Numbers> = makeColumns();
    let offset = numbers.byteOffset;
    for (const [name, length] of lengths) {
      const { kind } = columns[name] ?? {};
      if (!kind) return null;
      const column = Numbers.over(kind, numbers.buffer, offset, length);
      columns[name] = column;
      offset += padded(column.bytes.length);
    }
    return new CaseTable({ columns: columns as Columns, words, caseIds });
  } catch {
    // A cache: whoever asked makes the table again from the digests.
    return null;
  }
}
