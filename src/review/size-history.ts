/** How each size came about: what was offered, taken back, lapsed and confirmed. A fold over entries. */
import type { CaptureId, CaptureValue, Entry, FactOf, Source, Stamp } from '../domain';

export interface SizeHistory {
  readonly capture: CaptureId;
  /** The value that was confirmed last and not taken back; null where none was. */
  readonly value: CaptureValue | null;
  readonly confirmedAt: Stamp | null;
  /** Where the confirmation came from. */
  readonly source: Source | null;
  readonly offers: number;
  /** Offers taken back or corrected, before or after they were confirmed. */
  readonly corrected: number;
  readonly lapsed: number;
  /** How many confirmations stand; more than one means that it was changed. */
  readonly confirmed: number;
}

/** Histories in the order of the first offer. */
export function foldSizes(entries: readonly Entry[]): readonly SizeHistory[] {
  const fold = new SizesFold();
  for (const entry of entries) fold.take(entry);
  return fold.result();
}

type Confirmation = Pick<SizeHistory, 'value' | 'confirmedAt' | 'source'> & {
  readonly seq: number;
};
type Counts = { offers: number; corrected: number; lapsed: number };

class SizesFold {
  readonly #counts = new Map<CaptureId, Counts>();
  readonly #open = new Set<CaptureId>();
  /** Confirmations that stand, the last one being the value that counts. */
  readonly #stands = new Map<CaptureId, Confirmation[]>();

  take(entry: Entry): void {
    if (entry.type === 'order.undone') this.#takeBack(entry.data.since);
    if (!isCaptureEntry(entry)) return;
    const { capture } = entry.data;
    const counts = this.#countsOf(capture);
    const wasOpen = this.#open.delete(capture);
    switch (entry.type) {
      case 'capture.offered':
        counts.offers += 1;
        // Another offer over an open one is a correction.
        if (wasOpen) counts.corrected += 1;
        this.#open.add(capture);
        break;
      case 'capture.confirmed':
        this.#confirm(entry);
        break;
      case 'capture.withdrawn':
        counts.corrected += 1;
        break;
      case 'capture.lapsed':
        counts.lapsed += 1;
    }
  }

  result(): readonly SizeHistory[] {
    return [...this.#counts].map(([capture, counts]) => {
      const stands = this.#stands.get(capture) ?? [];
      const { value = null, confirmedAt = null, source = null } = stands.at(-1) ?? {};
      return { capture, value, confirmedAt, source, ...counts, confirmed: stands.length };
    });
  }

  #confirm({ seq, at, mono, run, source, data }: Entry & FactOf<'capture.confirmed'>): void {
    const { capture, value } = data;
    const stands = this.#stands.get(capture) ?? [];
    stands.push({ seq, value, source, confirmedAt: { at, mono, run } });
    this.#stands.set(capture, stands);
  }

  /** A confirmation that was taken back stands no longer; what was confirmed before it does. */
  #takeBack(since: number): void {
    for (const [capture, stands] of this.#stands) {
      while ((stands.at(-1)?.seq ?? -1) >= since) {
        stands.pop();
        this.#countsOf(capture).corrected += 1;
      }
    }
  }

  #countsOf(capture: CaptureId): Counts {
    const counts = this.#counts.get(capture) ?? { offers: 0, corrected: 0, lapsed: 0 };
    this.#counts.set(capture, counts);
    return counts;
  }
}

/** The entries that offer, settle or drop a value. */
const OFFERS = [
  'capture.offered',
  'capture.confirmed',
  'capture.withdrawn',
  'capture.lapsed',
] as const;

type CaptureEntry = Extract<Entry, { readonly type: (typeof OFFERS)[number] }>;

function isCaptureEntry(entry: Entry): entry is CaptureEntry {
  return OFFERS.some((type) => type === entry.type);
}
