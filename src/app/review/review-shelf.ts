/**
 * The cases of the look back: the table that is counted in, the digests it is made of as they
 * are kept between visits, and those that could not be kept, which stay as long as this visit.
 */
import { err, fault, ok } from '../../domain';
import type { CaseId, Fault, Result } from '../../domain';
import type { KeyRing } from '../../record';
import { CaseTable, mergeDigests } from '../../review';
import type { CaseDigest } from '../../review';
import type { PartsAside } from '../../ui';
import { DigestStore } from './digest-store';

/** How a file of another machine changed what is here; null where it was stopped before that. */
export type Taken = { readonly added: number; readonly same: number } | null;

export class ReviewShelf {
  #table = new CaseTable();
  #revision = 0;
  readonly #kept: DigestStore;
  /** Digests that could not be kept. */
  #loose: readonly CaseDigest[] = [];
  #aside: PartsAside | null = null;

  constructor(ring: KeyRing) {
    this.#kept = new DigestStore(ring);
    this.#kept.prepare();
  }

  get table(): CaseTable {
    return this.#table;
  }

  /** Counts what changes an answer. */
  get revision(): number {
    return this.#revision;
  }

  /** Damaged parts that were set aside, now or before. */
  get aside(): PartsAside | null {
    return this.#aside;
  }

  /** Something besides the cases changes the answers. */
  renew(): void {
    this.#revision += 1;
  }

  /** Reads what is kept. Fault: `review-cache-lost`; it is only a cache, the record itself is read after it. */
  async load(): Promise<Fault | null> {
    return this.#attempt(async () => {
      this.#table = await this.#kept.readTable();
      this.#revision += 1;
    });
  }

  /** Keeps the table for the next visit. Faults: `review-cache-lost`, `review-kept-unreadable` where it is not of all. */
  async keepTable(): Promise<Fault | null> {
    const unkept = await this.#attempt(() => this.#kept.keepTable(this.#table));
    return this.#kept.isPartial ? fault('review-kept-unreadable') : unkept;
  }

  /** Takes a case into the table; `keep` keeps it. */
  add(digest: CaseDigest): void {
    this.#table.add(digest);
    this.#revision += 1;
  }

  /** Keeps what was added. Digests that can't be kept stay as long as this visit lasts. */
  async keep(digests: readonly CaseDigest[]): Promise<Fault | null> {
    const unkept = await this.#attempt(() => this.#kept.add(digests));
    if (unkept) this.#loose = [...this.#loose, ...digests];
    return unkept;
  }

  /** Digests as they are kept, and those that could not be. Rejects with the browser's reason. */
  async readAll(): Promise<ReadonlyMap<CaseId, CaseDigest>> {
    const all = [...(await this.#kept.read()), ...this.#loose];
    return new Map(all.map((digest) => [digest.caseId, digest]));
  }

  /** Lets go of cases that were removed from the record. */
  async drop(gone: ReadonlySet<CaseId>): Promise<Fault | null> {
    if (![...gone].some((caseId) => this.#table.has(caseId))) return null;
    this.#revision += 1;
    this.#loose = this.#loose.filter(({ caseId }) => !gone.has(caseId));
    // They must not be seen, even while what is kept of them can't be changed.
    this.#table = new CaseTable();
    return this.#attempt(async () => {
      await this.#kept.drop(gone);
      await this.#makeTable();
    });
  }

  /**
   * Takes in what a file brings: all of it or none. Nothing that is kept goes before what stands
   * in its place is kept. Faults: `review-kept-unreadable`, `review-file-not-kept`.
   */
  async takeIn(
    wanted: readonly CaseDigest[],
    isStopped: (ready: number) => Promise<boolean>,
  ): Promise<Result<Taken, Fault>> {
    try {
      const known = [...(await this.readAll()).values()];
      if (this.#kept.isPartial) return err(fault('review-kept-unreadable'));
      const merged = mergeDigests(known, wanted);
      if (!(await this.#kept.replace(merged.digests, isStopped))) return ok(null);
      const before = new Set(known);
      // What was read from the record meanwhile stays in both.
      this.#loose = this.#loose.filter((digest) => !before.has(digest));
      for (const digest of merged.digests) if (!before.has(digest)) this.#table.add(digest);
      this.#revision += 1;
      return ok(merged);
    } catch (cause) {
      return err(fault('review-file-not-kept', { detail: String(cause) }));
    }
  }

  /** Counts what was set aside. The fault says what was since the last time; the table is then of what is left. */
  async lookAside(): Promise<Fault | null> {
    const newly = this.#kept.takeNewlyAside();
    const lost = await this.#attempt(async () => {
      this.#aside = await this.#kept.listAside();
      if (newly) await this.#makeTable();
    });
    return newly ? fault('review-parts-set-aside', { what: partsToText(newly) }) : lost;
  }

  /** Lets go of what was set aside. */
  async forgetAside(): Promise<Fault | null> {
    return this.#attempt(async () => {
      await this.#kept.forgetAside();
      this.#aside = await this.#kept.listAside();
    });
  }

  async #makeTable(): Promise<void> {
    this.#table = CaseTable.of([...(await this.readAll()).values()]);
    this.#revision += 1;
  }

  async #attempt(work: () => Promise<void>): Promise<Fault | null> {
    try {
      await work();
      return null;
    } catch (cause) {
      return fault('review-cache-lost', { detail: String(cause) });
    }
  }
}

/** "2 parts, 253 cases"; without the cases where nobody knows how many there were. */
function partsToText({ parts, cases }: PartsAside): string {
  const count = (number: number, one: string) => `${number} ${one}${number === 1 ? '' : 's'}`;
  return [count(parts, 'part'), ...(cases === null ? [] : [count(cases, 'case')])].join(', ');
}
