/**
 * What was heard wrong, and how it was settled: speech that no listener understood,
 * sizes that were offered by voice and then corrected, taken back or left to lapse, and
 * spoken orders that were carried out and taken back. A fold over entries.
 */
import type { CaptureId, CaptureValue, Entry, FactOf, Source, Stamp } from '../domain';

export interface MisheardRow {
  readonly at: Stamp;
  /** The words that were heard; null where nothing was understood. */
  readonly words: string | null;
  /** What it was taken for; null where it was taken for nothing. */
  readonly offered: { readonly capture: CaptureId; readonly value: CaptureValue } | null;
  /** Why it did not stand. */
  readonly end: 'not understood' | 'corrected' | 'taken back' | 'lapsed' | 'undone';
  /** The value that was confirmed in the end, and from where; null where none was. */
  readonly settled: { readonly value: CaptureValue; readonly source: Source } | null;
  /** The words that were understood next, where it was about no size; null where none were. */
  readonly next: string | null;
}

/** An offer by voice, or a spoken order, whose fate is not known yet. */
type Heard = Pick<MisheardRow, 'at' | 'words' | 'offered'>;

/** One line for each, in the order in which it was heard. */
export function listMisheard(entries: readonly Entry[]): readonly MisheardRow[] {
  const fold = new MisheardFold();
  for (const entry of entries) fold.take(entry);
  return fold.rows.toSorted((a, b) => a.at.at - b.at.at);
}

class MisheardFold {
  rows: readonly MisheardRow[] = [];
  /** Offers by voice that wait for an answer. */
  readonly #open = new Map<CaptureId, Heard>();
  /** The last offer by voice that was confirmed, and the entry that confirmed it. */
  #confirmed: { readonly offer: Heard; readonly seq: number } | null = null;
  /** Words that were understood, by their entry: what they ordered comes right after it. */
  readonly #understood = new Map<number, Heard & { readonly words: string }>();

  take(entry: Entry): void {
    switch (entry.type) {
      case 'phrase.heard':
        return this.#hear(entry, entry.data.words);
      case 'order.refused':
        if (entry.data.code === 'phrase-not-understood')
          this.#add({ at: stampOf(entry), words: null, offered: null }, 'not understood');
        return;
      case 'capture.offered': {
        const { capture } = entry.data;
        this.#drop(capture, 'corrected');
        if (entry.source !== 'voice') return;
        const words = this.#understood.get(entry.seq - 1)?.words ?? null;
        this.#open.set(capture, { at: stampOf(entry), words, offered: entry.data });
        return;
      }
      case 'capture.withdrawn':
        return this.#drop(entry.data.capture, 'taken back');
      case 'capture.lapsed':
        return this.#drop(entry.data.capture, 'lapsed');
      case 'capture.confirmed': {
        const offer = this.#open.get(entry.data.capture);
        this.#open.delete(entry.data.capture);
        this.#confirmed = offer ? { offer, seq: entry.seq } : null;
        return this.#settle(entry);
      }
      case 'order.undone':
        return this.#takeBack(entry.data.since);
      default:
        return;
    }
  }

  #hear(entry: Entry, words: string | null): void {
    if (words === null) return;
    this.rows = this.rows.map((row) =>
      row.offered === null && row.next === null ? { ...row, next: words } : row,
    );
    this.#understood.set(entry.seq, { at: stampOf(entry), words, offered: null });
  }

  /** A size that was confirmed and taken back was heard wrong, or else the order itself was. */
  #takeBack(since: number): void {
    const spoken = this.#understood.get(since);
    if (this.#confirmed && this.#confirmed.seq >= since) this.#add(this.#confirmed.offer, 'undone');
    else if (spoken) this.#add(spoken, 'undone');
    this.#confirmed = null;
  }

  #drop(capture: CaptureId, end: MisheardRow['end']): void {
    const offer = this.#open.get(capture);
    this.#open.delete(capture);
    if (offer) this.#add(offer, end);
  }

  #add(heard: Heard, end: MisheardRow['end']): void {
    this.rows = [...this.rows, { ...heard, end, settled: null, next: null }];
  }

  /** The next confirmation of the same size settles everything that was wrong about it before. */
  #settle({ data: { capture, value }, source }: Entry & FactOf<'capture.confirmed'>): void {
    this.rows = this.rows.map((row) =>
      row.offered?.capture === capture && row.settled === null
        ? { ...row, settled: { value, source } }
        : row,
    );
  }
}

function stampOf({ at, mono, run }: Stamp): Stamp {
  return { at, mono, run };
}
