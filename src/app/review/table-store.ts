/**
 * The table that the look back counts in, kept between visits in a database of its own. It is
 * stamped with what it was made of; with another stamp it is of no use and is made anew.
 */
import { clear, createStore, get, set } from 'idb-keyval';
import { coverBytes, coverText, uncoverBytes, uncoverText } from '../../record';
import type { KeyRing } from '../../record';
import { packTable, unpackTable } from '../../review';
import type { CaseTable } from '../../review';

const TABLE = 'table';

/** The table as it is kept. */
export interface KeptTable {
  readonly stamp: string;
  readonly header: unknown;
  readonly numbers: unknown;
}

export class TableStore {
  readonly #store = createStore('cuewall-review-table', 'tables');

  /** `lock` is the record's: under it nothing of the table lies readable. */
  constructor(private readonly lock: KeyRing) {}

  /** As it lies; undefined where none was kept. */
  read(): Promise<KeptTable | undefined> {
    return get<KeptTable>(TABLE, this.#store);
  }

  /** The table of what was kept, where the lock lets it and it is whole; else null. */
  async open(kept: KeptTable): Promise<CaseTable | null> {
    const header = await uncoverText(this.lock, kept.header);
    const numbers = await uncoverBytes(this.lock, kept.numbers);
    return header === null || numbers === null ? null : unpackTable({ header, numbers });
  }

  /** Rejects with the browser's reason. */
  async keep(table: CaseTable, stamp: string): Promise<void> {
    const { header, numbers } = packTable(table);
    const value: KeptTable = {
      stamp,
      header: await coverText(this.lock, header),
      numbers: await coverBytes(this.lock, numbers),
    };
    await set(TABLE, value, this.#store);
  }

  clear(): Promise<void> {
    return clear(this.#store);
  }
}
