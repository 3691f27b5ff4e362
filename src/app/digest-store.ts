/**
 * Digests kept between visits, in a database of their own: a cache that can be thrown
 * away at any time, and the cases brought from other machines. Kept as text in
 * pieces, which a browser reads several times faster than as many small values.
 */
import { clear, createStore, entries, set } from 'idb-keyval';
import { coverText, uncoverText } from '../record';
import type { KeyRing } from '../record';
import type { CaseDigest } from '../review';

const DATABASE = 'cuewall-review';
/** Digests in one piece: large enough to be few, small enough that a visit that is cut short keeps most. */
export const PIECE = 250;

export class DigestStore {
  readonly #store = createStore(DATABASE, 'digests');
  #pieces = 0;

  /** `lock` is the record's: under it nothing of a digest lies readable. */
  constructor(private readonly lock: KeyRing) {}

  /** Everything kept; one of an older version is made again where the record has the case. */
  async read(): Promise<readonly CaseDigest[]> {
    const kept = await entries<string, unknown>(this.#store);
    this.#pieces = kept.length;
    const texts = await Promise.all(kept.map(([, piece]) => uncoverText(this.lock, piece)));
    return texts.flatMap((text) => (text === null ? [] : (JSON.parse(text) as CaseDigest[])));
  }

  /** Encrypts what lies open from before a lock was set; what is encrypted already stays. */
  async coverAll(): Promise<void> {
    for (const [name, piece] of await entries<string, unknown>(this.#store))
      if (typeof piece === 'string')
        await set(name, await coverText(this.lock, piece), this.#store);
  }

  /** Keeps some more. */
  async add(digests: readonly CaseDigest[]): Promise<void> {
    if (digests.length === 0) return;
    this.#pieces += 1;
    await set(
      `piece-${String(this.#pieces).padStart(6, '0')}`,
      await coverText(this.lock, JSON.stringify(digests)),
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
