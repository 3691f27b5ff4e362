/**
 * The one case in a browser's record, read as it lies on disk while it is spoken: for an
 * actor who waits for what the wall does, and to tell what was taken that nobody said.
 */
import type { Page } from '@playwright/test';
import type { Entry, RoomOrder } from '../../src/domain';
import type { CaseUpdate, RunningCase } from '../../src/session/running-case';

/** How often the record is looked at, in milliseconds. */
const LOOK_MS = 150;
/** How long something pressed at the desk may take on a busy machine, in milliseconds. */
const DESK_WAIT_MS = 30_000;
const DONE_AT_DESK: readonly Entry['type'][] = ['label.scanned', 'pack.moved'];
/** After these a read-back stands, or no longer. */
const READ_BACK: Readonly<Partial<Record<Entry['type'], boolean>>> = {
  'capture.offered': true,
  'capture.questioned': true,
  'capture.confirmed': false,
  'capture.withdrawn': false,
  'capture.lapsed': false,
};

export class CaseOnDisk {
  readonly entries: Entry[] = [];
  /** Phrases that were taken and are not what was said last, talk included. */
  readonly wrong: string[] = [];
  /** Phrases that were said again because the wall was late, and were then taken both times. */
  readonly twice: string[] = [];
  readonly #subscribers = new Set<(update: CaseUpdate) => void>();
  #hasReadBack = false;
  #looking = Promise.resolve();
  /** What was said last; null where that was for nobody. */
  #said: string | null = null;
  #isTaken = false;

  /** `desk` does what is not said but scanned and pressed; without it nothing is. */
  constructor(
    private readonly page: Page,
    private readonly desk?: (order: RoomOrder) => Promise<void>,
  ) {}

  /** For the actor, which asks of a read-back only whether it stands, and has packs scanned. */
  get running(): RunningCase {
    const readBack = (): boolean => this.#hasReadBack;
    const view = {
      get readBack() {
        return readBack() ? {} : null;
      },
    };
    const subscribe: RunningCase['subscribe'] = (subscriber) => {
      this.#subscribers.add(subscriber);
      return () => this.#subscribers.delete(subscriber);
    };
    return { view, subscribe, submit: this.#submit } as unknown as RunningCase;
  }

  /** From now on these words, and no others, may be taken. Null for talk, of which nothing may. */
  expect(words: string | null): void {
    this.#said = words;
    this.#isTaken = false;
  }

  /** Looks at the record until something that fits was added, or the time is over. */
  async lookUntil(fits: (entry: Entry) => boolean, ms: number): Promise<boolean> {
    const from = this.entries.length;
    for (const endMs = Date.now() + ms; Date.now() < endMs;) {
      await this.look();
      if (this.entries.slice(from).some(fits)) return true;
      await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
    }
    return false;
  }

  /** Takes in what was added; one look waits for the other. */
  look(): Promise<void> {
    this.#looking = this.#looking.then(() => this.#takeIn());
    return this.#looking;
  }

  async #takeIn(): Promise<void> {
    const added = await this.page.evaluate(readEntries, this.entries.length);
    if (added.length === 0) return;
    this.entries.push(...added);
    for (const { type } of added) this.#hasReadBack = READ_BACK[type] ?? this.#hasReadBack;
    const entries = added.map((entry, index) =>
      isTooLate(added[index + 1]) ? asNotTaken(entry) : entry,
    );
    for (const entry of entries) if (entry.type === 'phrase.heard') this.#weigh(entry.data.words);
    for (const tell of this.#subscribers)
      tell({ entries, announcements: [] } as unknown as CaseUpdate);
  }

  readonly #submit = async (order: RoomOrder): Promise<{ refusal: null }> => {
    if (!this.desk) throw new Error(`Nobody is at the desk for ${order.type}`);
    await this.look();
    await this.desk(order);
    const isDone = await this.lookUntil(({ type }) => DONE_AT_DESK.includes(type), DESK_WAIT_MS);
    if (!isDone) throw new Error(`${order.type} came to nothing`);
    return { refusal: null };
  };

  #weigh(taken: string | null): void {
    if (taken === null) return;
    if (taken !== this.#said)
      this.wrong.push(`${taken}, said ${this.#said ?? 'nothing to the wall'}`);
    else if (this.#isTaken) this.twice.push(taken);
    this.#isTaken = true;
  }
}

/** Whether an order was refused because it was begun before what it answers was there: it is to be said again. */
function isTooLate(next: Entry | undefined): boolean {
  return next?.type === 'order.refused' && next.data.code === 'changed-meanwhile';
}

function asNotTaken(entry: Entry): Entry {
  return entry.type === 'phrase.heard' ? { ...entry, data: { ...entry.data, words: null } } : entry;
}

/** In the page: the entries of the record's one case from a position on, in order. */
async function readEntries(from: number): Promise<Entry[]> {
  // A method: what runs our benches gives functions with names a helper that the page lacks.
  const { settle } = {
    settle<T>(request: IDBRequest<T>): Promise<T> {
      return new Promise((resolve, reject) => {
        request.onsuccess = () => {
          resolve(request.result);
        };
        request.onerror = () => {
          reject(new Error(String(request.error)));
        };
      });
    },
  };
  const database = await settle(indexedDB.open('cuewall-record'));
  const entries = database.transaction('entries').objectStore('entries');
  const [first] = (await settle(entries.getAllKeys(null, 1))) as [string, number][];
  const added = first
    ? await settle(entries.getAll(IDBKeyRange.bound([first[0], from], [first[0], []])))
    : [];
  database.close();
  return added as Entry[];
}
