/**
 * Digests kept between visits, in a database of their own: a cache that can be thrown
 * away at any time, and the cases brought from other machines. Kept as text in
 * pieces; no piece goes before what stands in its place is kept. Beside them the table
 * that the look back counts in, good only for exactly the pieces it was made of.
 */
import { clear, createStore, del, entries, get, keys, promisifyRequest, set } from 'idb-keyval';
import type { CaseId } from '../domain';
import { coverBytes, coverText, uncoverBytes, uncoverText } from '../record';
import type { KeyRing } from '../record';
import { CaseTable, DIGEST_VERSION, packTable, TABLE_LAYOUT, unpackTable } from '../review';
import type { CaseDigest } from '../review';

const DATABASE = 'cuewall-review';
const TABLE_DATABASE = 'cuewall-review-table';
const TABLE = 'table';
/** Digests in one piece: large enough to be few, small enough that a visit that is cut short keeps most. */
export const PIECE = 250;

/** The table as it is kept. */
interface KeptTable {
  /** What it was made of and how; another stamp means that it is of no use. */
  readonly stamp: string;
  readonly header: unknown;
  readonly numbers: unknown;
}

export class DigestStore {
  readonly #store = createStore(DATABASE, 'digests');
  readonly #tables = createStore(TABLE_DATABASE, 'tables');
  /** Read before anybody asks, as it lies: it takes the disk a while, and needs no key. */
  #early: Promise<readonly [KeptTable | undefined, string]> | null = null;

  /** Names of the pieces that the last reading read. */
  #names: readonly string[] = [];
  #isPartial = false;

  /** `lock` is the record's: under it nothing of a digest lies readable. */
  constructor(private readonly lock: KeyRing) {}

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
    return (
      (kept?.stamp === stamp ? await this.#open(kept) : null) ?? CaseTable.of(await this.read())
    );
  }

  /** Keeps a table of what is kept. */
  async keepTable(table: CaseTable): Promise<void> {
    const [kept, stamp] = await this.#readKept();
    if (kept?.stamp === stamp || this.#isPartial) return;
    const { header, numbers } = packTable(table);
    const value: KeptTable = {
      stamp,
      header: await coverText(this.lock, header),
      numbers: await coverBytes(this.lock, numbers),
    };
    await set(TABLE, value, this.#tables);
  }

  /** Everything kept, each case once; one of an older version is made again where the record has the case. */
  async read(): Promise<readonly CaseDigest[]> {
    const kept = await entries<string, unknown>(this.#store);
    const pieces = await Promise.all(kept.map(([, piece]) => this.#readPiece(piece)));
    this.#names = kept.map(([name]) => name);
    this.#isPartial = pieces.includes(null);
    const byId = new Map<CaseId, CaseDigest>();
    for (const piece of pieces)
      for (const digest of piece ?? []) {
        const known = byId.get(digest.caseId);
        if (!known || isFuller(digest, known)) byId.set(digest.caseId, digest);
      }
    return [...byId.values()];
  }

  /** Encrypts what lies open from before a lock was set; what is encrypted already stays. */
  async coverAll(): Promise<void> {
    await clear(this.#tables);
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
      const digests = (await this.#readPiece(piece)) ?? [];
      const left = digests.filter(({ caseId }) => !gone.has(caseId));
      if (left.length === digests.length) continue;
      // Under another name, so that the table made of the old piece is of no use any more.
      await this.add(left);
      await del(name, this.#store);
      await clear(this.#tables);
    }
  }

  /**
   * Puts these in the place of what the last reading read; what another window has kept since
   * then stays. All or nothing: in one transaction the new pieces are written, then the old
   * ones go. Rejects with the browser's reason, or where some of the old could not be read.
   */
  async replace(digests: readonly CaseDigest[]): Promise<void> {
    if (this.#isPartial) throw new Error('pieces that could not be read are not replaced');
    const pieces: (readonly [string, unknown])[] = [];
    for (let from = 0; from < digests.length; from += PIECE)
      pieces.push(await this.#makePiece(digests.slice(from, from + PIECE)));
    const old = this.#names;
    await this.#store('readwrite', (store) => {
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
    this.#names = pieces.map(([name]) => name);
  }

  async #makePiece(digests: readonly CaseDigest[]): Promise<readonly [string, unknown]> {
    // A name that no other window gives.
    const name = `piece-${crypto.randomUUID()}`;
    return [name, await coverText(this.lock, JSON.stringify(digests))];
  }

  /** The digests of a piece; null where it is locked or damaged, whichever of the two: it stays as it lies. */
  async #readPiece(piece: unknown): Promise<readonly CaseDigest[] | null> {
    try {
      const text = await uncoverText(this.lock, piece);
      return text === null ? null : (JSON.parse(text) as CaseDigest[]);
    } catch {
      return null;
    }
  }

  /** The table, where the lock lets it and it is whole. */
  async #open(kept: KeptTable): Promise<CaseTable | null> {
    const header = await uncoverText(this.lock, kept.header);
    const numbers = await uncoverBytes(this.lock, kept.numbers);
    return header === null || numbers === null ? null : unpackTable({ header, numbers });
  }

  async #readKept(): Promise<readonly [KeptTable | undefined, string]> {
    const [kept, names] = await Promise.all([
      get<KeptTable>(TABLE, this.#tables),
      keys<string>(this.#store),
    ]);
    return [kept, `${TABLE_LAYOUT}/${DIGEST_VERSION}: ${names.join(' ')}`];
  }
}

/** Of two digests of one case: made by a later program, else of a record that has come further. */
function isFuller(digest: CaseDigest, than: CaseDigest): boolean {
  return digest.version === than.version
    ? digest.entryCount > than.entryCount
    : digest.version > than.version;
}
