/**
 * Digests kept between visits, in a database of their own: a cache that can be thrown
 * away at any time, and the cases brought from other machines. Kept as text in
 * pieces, which a browser reads several times faster than as many small values.
 */
import { clear, createStore, entries, set } from 'idb-keyval';
import type { CaseDigest } from '../review';

const DATABASE = 'cuewall-review';
/** Digests in one piece: large enough to be few, small enough that a visit that is cut short keeps most. */
export const PIECE = 250;

export class DigestStore {
  readonly #store = createStore(DATABASE, 'digests');
  #pieces = 0;

  /** Everything kept; one of an older version is made again where the record has the case. */
  async read(): Promise<readonly CaseDigest[]> {
    const kept = await entries<string, string>(this.#store);
    this.#pieces = kept.length;
    return kept.flatMap(([, text]) => JSON.parse(text) as readonly CaseDigest[]);
  }

  /** Keeps some more. */
  async add(digests: readonly CaseDigest[]): Promise<void> {
    if (digests.length === 0) return;
    this.#pieces += 1;
    await set(
      `piece-${String(this.#pieces).padStart(6, '0')}`,
      JSON.stringify(digests),
      this.#store,
    );
  }

  /** Starts anew with these. */
  async replace(digests: readonly CaseDigest[]): Promise<void> {
    await clear(this.#store);
    this.#pieces = 0;
    for (let from = 0; from < digests.length; from += PIECE)
      await this.add(digests.slice(from, from + PIECE));
  }
}
