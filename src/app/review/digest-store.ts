/**
 * Digests kept between visits, in a database of their own: a cache that can be thrown
 * away at any time, and the cases brought from other machines. Kept as text in
 * pieces; no piece goes before what stands in its place is kept, and a damaged one is set
 * aside under another name as it lies. Beside them the table that the look back counts in,
 * good only for exactly the pieces it was made of.
 */
import { createStore, del, delMany, entries, keys, promisifyRequest, set } from 'idb-keyval';
import type { CaseId } from '../../domain';
import { coverText } from '../../record';
import type { KeyRing } from '../../record';
import { CaseTable, DIGEST_VERSION, TABLE_LAYOUT } from '../../review';
import type { CaseDigest } from '../../review';
import type { PartsAside } from '../../ui';
import {
  countParts, isAside, isFuller, makePieceName, readPiece, toAsideName,
} from './digest-pieces'; // prettier-ignore
import { TableStore } from './table-store';
import type { KeptTable } from './table-store';

const DATABASE = 'cuewall-review';
/** Digests in one piece: large enough to be few, small enough that a visit that is cut short keeps most. */
export const PIECE = 250;

export class DigestStore {
  readonly #store = createStore(DATABASE, 'digests');
  readonly #tables: TableStore;
  /** Read before anybody asks, as it lies: it takes the disk a while, and needs no key. */
  #early: Promise<readonly [KeptTable | undefined, string]> | null = null;

  /** Names of the pieces that the last reading read. */
  #names: readonly string[] = [];
  #isPartial = false;
  #newlyAside: readonly string[] = [];

  /** `lock` is the record's: under it nothing of a digest lies readable. */
  constructor(private readonly lock: KeyRing) {
    this.#tables = new TableStore(lock);
  }

  /** Whether the last reading could not read some of it; a table of the rest must not be kept as one of all. */
  get isPartial(): boolean {
    return this.#isPartial;
  }

  /** Begins to read the table. */
  prepare(): void {
    this.#early = this.#readKept();
    // Whoever asks gets the reason.
    this.#early.catch(() => undefined);
  }

  /** The table of everything kept; made anew from the digests where the kept one is not of them. */
  async readTable(): Promise<CaseTable> {
    const [kept, stamp] = await (this.#early ?? this.#readKept());
    this.#early = null;
    const table = kept?.stamp === stamp ? await this.#tables.open(kept) : null;
    return table ?? CaseTable.of(await this.read());
  }

  /** Keeps a table of what is kept. */
  async keepTable(table: CaseTable): Promise<void> {
    const [kept, stamp] = await this.#readKept();
    if (kept?.stamp === stamp || this.#isPartial) return;
    await this.#tables.keep(table, stamp);
  }

  /**
   * Everything kept, each case once; one of an older version is made again where the record has
   * the case. A damaged piece is set aside, so that it keeps nobody from the others.
   */
  async read(): Promise<readonly CaseDigest[]> {
    const kept = (await entries<string, unknown>(this.#store)).filter(([name]) => !isAside(name));
    const pieces = await Promise.all(kept.map(([, piece]) => readPiece(this.lock, piece)));
    const damaged = kept.filter((_, place) => pieces[place] === 'damaged');
    const isSetAside = await this.#setAside(damaged);
    this.#isPartial = pieces.includes('locked') || !isSetAside;
    this.#names = kept.flatMap(([name], place) => (Array.isArray(pieces[place]) ? [name] : []));
    const byId = new Map<CaseId, CaseDigest>();
    for (const piece of pieces)
      for (const digest of typeof piece === 'string' ? [] : piece) {
        const known = byId.get(digest.caseId);
        if (!known || isFuller(digest, known)) byId.set(digest.caseId, digest);
      }
    return [...byId.values()];
  }

  /** What this reader has set aside since it was last asked; null where nothing was. */
  takeNewlyAside(): PartsAside | null {
    const parts = countParts(this.#newlyAside);
    this.#newlyAside = [];
    return parts;
  }

  /** All that was ever set aside here; null where nothing is. */
  async listAside(): Promise<PartsAside | null> {
    return countParts((await keys<string>(this.#store)).filter(isAside));
  }

  /** Lets go of what was set aside. */
  async forgetAside(): Promise<void> {
    await delMany((await keys<string>(this.#store)).filter(isAside), this.#store);
  }

  /** Encrypts what lies open from before a lock was set; what is encrypted already stays. */
  async coverAll(): Promise<void> {
    await this.#tables.clear();
    for (const [name, piece] of await entries<string, unknown>(this.#store))
      if (typeof piece === 'string')
        await set(name, await coverText(this.lock, piece), this.#store);
  }

  /** Keeps some more. */
  async add(digests: readonly CaseDigest[]): Promise<void> {
    if (digests.length === 0) return;
    const [name, piece] = await this.#makePiece(digests);
    await set(name, piece, this.#store);
  }

  /** Lets go of cases that were removed from the record. What the lock keeps unreadable stays until a look back that can read it. */
  async drop(gone: ReadonlySet<CaseId>): Promise<void> {
    for (const [name, piece] of await entries<string, unknown>(this.#store)) {
      const digests = await readPiece(this.lock, piece);
      if (typeof digests === 'string') continue;
      const left = digests.filter(({ caseId }) => !gone.has(caseId));
      if (left.length === digests.length) continue;
      // Under another name, so that the table made of the old piece is of no use any more.
      await this.add(left);
      await del(name, this.#store);
      await this.#tables.clear();
    }
  }

  /**
   * Puts these in the place of what the last reading read; what another window has kept since
   * then stays. All or nothing: in one transaction the new pieces are written, then the old
   * ones go. `isStopped` hears before that how many digests are ready to be written; once it says
   * so nothing is. False where it was stopped. Rejects with the browser's reason, or where some
   * of the old could not be read.
   */
  async replace(
    digests: readonly CaseDigest[],
    isStopped: (ready: number) => Promise<boolean> = () => Promise.resolve(false),
  ): Promise<boolean> {
    if (this.#isPartial) throw new Error('pieces that could not be read are not replaced');
    const pieces: (readonly [string, unknown])[] = [];
    for (let from = 0; from < digests.length; from += PIECE) {
      if (await isStopped(from)) return false;
      pieces.push(await this.#makePiece(digests.slice(from, from + PIECE)));
    }
    if (await isStopped(digests.length)) return false;
    await this.#change(pieces, this.#names);
    this.#names = pieces.map(([name]) => name);
    return true;
  }

  /** Gives damaged pieces a name under which nobody looks for digests; false where the disk does not let it. */
  async #setAside(damaged: readonly (readonly [string, unknown])[]): Promise<boolean> {
    if (damaged.length === 0) return true;
    const names = damaged.map(([name]) => name);
    const moved = damaged.map(([name, piece]) => [toAsideName(name), piece] as const);
    try {
      await this.#change(moved, names);
      this.#newlyAside = [...this.#newlyAside, ...names];
      return true;
    } catch {
      // They stay as they lie, and what can't be read blocks nothing but the replacing.
      return false;
    }
  }

  /** All of it or none, in one transaction: the new ones are written, then the old ones go. */
  #change(pieces: readonly (readonly [string, unknown])[], old: readonly string[]): Promise<void> {
    return this.#store('readwrite', (store) => {
      try {
        for (const [name, piece] of pieces) store.put(piece, name);
        for (const name of old) store.delete(name);
      } catch (cause) {
        // Else what was asked for so far would be committed.
        store.transaction.abort();
        throw cause;
      }
      return promisifyRequest(store.transaction);
    });
  }

  async #makePiece(digests: readonly CaseDigest[]): Promise<readonly [string, unknown]> {
    return [makePieceName(digests.length), await coverText(this.lock, JSON.stringify(digests))];
  }

  async #readKept(): Promise<readonly [KeptTable | undefined, string]> {
    const [kept, names] = await Promise.all([this.#tables.read(), keys<string>(this.#store)]);
    const pieces = names.filter((name) => !isAside(name));
    return [kept, `${TABLE_LAYOUT}/${DIGEST_VERSION}: ${pieces.join(' ')}`];
  }
}
