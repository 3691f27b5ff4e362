/**
 * A table of cases as bytes, to be kept: a header of words, case ids and the columns'
 * lengths, then the columns as they lie in memory. Written and read by the same
 * machine only, so the order of bytes is its own.
 */
import type { CaseId } from '../../domain';
import { CaseTable, makeColumns } from './case-table';
import type { Columns } from './case-table';
import { Numbers } from './numbers';

/** Raised whenever the same digests would give other bytes. */
export const TABLE_LAYOUT = 1;

interface Header {
  readonly words: readonly string[];
  readonly caseIds: readonly CaseId[];
  /** Name and number of values of each column, in the order in which they lie. */
  readonly columns: readonly (readonly [string, number])[];
}

/** Columns begin at multiples of eight, where every kind of number may. */
const padded = (length: number) => Math.ceil(length / 8) * 8;

/** The bytes of a table. */
export function tableToBytes({ columns, words, caseIds }: CaseTable): Uint8Array<ArrayBuffer> {
  const all = Object.entries(columns);
  const header: Header = {
    words: words.texts,
    caseIds,
    columns: all.map(([name, { length }]) => [name, length]),
  };
  const head = new TextEncoder().encode(JSON.stringify(header));
  const size = all.reduce((sum, [, { bytes }]) => sum + padded(bytes.length), 8 + padded(head.length)); // prettier-ignore
  const whole = new Uint8Array(size);
  new DataView(whole.buffer).setFloat64(0, head.length);
  whole.set(head, 8);
  let offset = 8 + padded(head.length);
  for (const [, { bytes }] of all) {
    whole.set(bytes, offset);
    offset += padded(bytes.length);
  }
  return whole;
}

/** The table of bytes that `tableToBytes` made; null where they are of another kind or cut short. */
export function bytesToTable(bytes: Uint8Array<ArrayBuffer>): CaseTable | null {
  try {
    const { buffer } = bytes.byteOffset % 8 === 0 ? bytes : bytes.slice();
    const start = buffer === bytes.buffer ? bytes.byteOffset : 0;
    const headLength = new DataView(buffer).getFloat64(start);
    const text = new TextDecoder().decode(new Uint8Array(buffer, start + 8, headLength));
    const header = JSON.parse(text) as Header;
    const columns: Record<string, Numbers> = makeColumns();
    let offset = start + 8 + padded(headLength);
    for (const [name, length] of header.columns) {
      const { kind } = columns[name] ?? {};
      if (!kind) return null;
      const column = Numbers.over(kind, buffer, offset, length);
      columns[name] = column;
      offset += padded(column.bytes.length);
    }
    const { words, caseIds } = header;
    return new CaseTable({ columns: columns as Columns, words, caseIds });
  } catch {
    // A cache: whoever asked makes the table again from the digests.
    return null;
  }
}
