/**
 * The entries of a running case in memory. The latest lie open; older ones are kept
 * deflated, because a case of twelve hours would otherwise fill the window with text
 * that nobody looks at, and are still here should the store be emptied under the case.
 * Where a case was taken up from a snapshot, its beginning is put in later.
 */
import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate';
import type { Entry } from '../../domain';

/** How many of the latest lie open: more than anybody asks for at once while a case runs. */
const KEPT_OPEN = 512;
/** How many are deflated together: one block takes a few milliseconds. */
const BLOCK = 256;

export class EntryShelf {
  readonly #blocks: Uint8Array[] = [];
  /** The position of the first entry that lies open. */
  #openFrom: number;
  #open: Entry[] = [];

  /** `from` is the position of the first entry that will be put in; those before it come with `fill`. */
  constructor(from = 0) {
    this.#openFrom = from;
    this.#missing = from;
  }

  /** How many entries at the beginning are not here yet. */
  #missing: number;

  /** How many entries the case has, here or not. */
  get count(): number {
    return this.#openFrom + this.#open.length;
  }

  /** Whether every entry is here. */
  get isWhole(): boolean {
    return this.#missing === 0;
  }

  /** Bytes of the deflated ones. */
  get packedBytes(): number {
    return this.#blocks.reduce((sum, { length }) => sum + length, 0);
  }

  push(entry: Entry): void {
    this.#open.push(entry);
    if (this.isWhole) this.#pack();
  }

  /** Puts the beginning in, which must be all that was missing; a shelf that is whole stays as it is. */
  fill(beginning: readonly Entry[]): void {
    if (this.isWhole || beginning.length !== this.#missing) return;
    this.#open = [...beginning, ...this.#open];
    this.#openFrom = 0;
    this.#missing = 0;
    this.#pack();
  }

  /** Entries from a position on, as far as they are here. */
  from(seq: number): readonly Entry[] {
    if (seq >= this.#openFrom) return this.#open.slice(seq - this.#openFrom);
    if (!this.isWhole) return this.#open;
    const first = Math.max(0, Math.floor(seq / BLOCK));
    const packed = this.#blocks.slice(first).flatMap(unpack);
    return [...packed.slice(seq - first * BLOCK), ...this.#open];
  }

  #pack(): void {
    while (this.#open.length >= KEPT_OPEN + BLOCK) {
      const block = this.#open.slice(0, BLOCK);
      this.#blocks.push(deflateSync(strToU8(JSON.stringify(block))));
      this.#open = this.#open.slice(BLOCK);
      this.#openFrom += BLOCK;
    }
  }
}

function unpack(block: Uint8Array): readonly Entry[] {
  return JSON.parse(strFromU8(inflateSync(block))) as readonly Entry[];
}
