/**
 * Marked changes kept between visits, in a database of their own beside the digests: they
 * are in no record, so they are no cache. One text a mark; under a lock none lies readable.
 */
import { createStore, del, entries, set } from 'idb-keyval';
import { coverText, uncoverText } from '../../record';
import type { KeyRing } from '../../record';
import { markToKey, mergeMarks } from '../../review';
import type { MarkedChange } from '../../review';

export class MarkStore {
  readonly #store = createStore('cuewall-review-marks', 'marks');

  constructor(private readonly lock: KeyRing) {}

  /** All marks that the lock lets be read, each once, in order of time. */
  async read(): Promise<readonly MarkedChange[]> {
    return mergeMarks(
      (await this.#readNamed()).map(({ mark }) => mark),
      [],
    );
  }

  /** Keeps those that are not kept yet. Rejects with the browser's reason. */
  async add(marks: readonly MarkedChange[]): Promise<void> {
    const known = new Set((await this.read()).map(markToKey));
    for (const mark of marks.filter((it) => !known.has(markToKey(it))))
      await set(`mark-${crypto.randomUUID()}`, await coverText(this.lock, JSON.stringify(mark)), this.#store); // prettier-ignore
  }

  /** Forgets a mark, however often it was kept. Rejects with the browser's reason. */
  async remove(mark: MarkedChange): Promise<void> {
    for (const kept of await this.#readNamed())
      if (markToKey(kept.mark) === markToKey(mark)) await del(kept.name, this.#store);
  }

  /** Encrypts what lies open from before a lock was set. */
  async coverAll(): Promise<void> {
    for (const [name, text] of await entries<string, unknown>(this.#store))
      if (typeof text === 'string') await set(name, await coverText(this.lock, text), this.#store);
  }

  async #readNamed(): Promise<readonly { readonly name: string; readonly mark: MarkedChange }[]> {
    const kept = await entries<string, unknown>(this.#store);
    const texts = await Promise.all(
      kept.map(async ([name, text]) => ({ name, text: await uncoverText(this.lock, text) })),
    );
    return texts.flatMap(({ name, text }) =>
      text === null ? [] : [{ name, mark: JSON.parse(text) as MarkedChange }],
    );
  }
}
