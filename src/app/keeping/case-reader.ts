/** Makes the digest of one closed case of the record, or says why it can't. */
import { err, fault, faultToDeveloperText, ok } from '../../domain';
import type { CaseId, Fault, Result } from '../../domain';
import type { RecordStore } from '../../record';
import { digestCase } from '../../review';
import type { CaseDigest } from '../../review';
import { OutlineShelf } from './outline-shelf';

export class CaseReader {
  readonly #outlines = new OutlineShelf();
  #unreadCount = 0;
  #firstReason = '';

  /** Cases that could not be read since `begin`. */
  get unreadCount(): number {
    return this.#unreadCount;
  }

  /** Counts anew. */
  begin(): void {
    this.#unreadCount = 0;
    this.#firstReason = '';
  }

  /** How many could not be read, with the first one's reason; null where all could. */
  tellUnread(): Fault | null {
    const count = String(this.#unreadCount);
    return this.#unreadCount === 0
      ? null
      : fault('review-cases-unread', { count, detail: this.#firstReason });
  }

  /** The digest of a case; null where it can't be made, which is counted. */
  async read(store: Pick<RecordStore, 'read'>, caseId: CaseId): Promise<CaseDigest | null> {
    const made = await this.#digest(store, caseId).catch((cause: unknown) => err(String(cause)));
    if (made.ok) return made.value;
    if (this.#unreadCount === 0) this.#firstReason = `"${caseId}": ${made.error}`;
    this.#unreadCount += 1;
    return null;
  }

  async #digest(
    store: Pick<RecordStore, 'read'>,
    caseId: CaseId,
  ): Promise<Result<CaseDigest, string>> {
    const read = await store.read(caseId);
    if (!read.ok) return err(faultToDeveloperText(read.error));
    const { problem, entries } = read.value;
    if (problem) return err(faultToDeveloperText(problem));
    const [opening] = entries;
    if (opening?.type !== 'case.opened') return err('no case.opened at its beginning');
    const outline = this.#outlines.of(opening.data.procedure);
    const digest = outline === null ? null : digestCase(entries, outline);
    return digest === null ? err('no outline or digest of it') : ok(digest);
  }
}
