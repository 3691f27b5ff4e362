/** How each size came about: what was offered, taken back, lapsed and confirmed. A fold over entries. */
import type { CaptureId, CaptureValue, Entry, Source, Stamp } from '../domain';

export interface SizeHistory {
  readonly capture: CaptureId;
  /** The value that counts in the end; null where none was confirmed. */
  readonly value: CaptureValue | null;
  readonly confirmedAt: Stamp | null;
  /** Where the confirmation came from. */
  readonly source: Source | null;
  readonly offers: number;
  /** Offers taken back or corrected before they were confirmed. */
  readonly corrected: number;
  readonly lapsed: number;
  /** How often it was confirmed; more than once means it was changed. */
  readonly confirmed: number;
}

/** Histories in the order of the first offer. */
export function foldSizes(entries: readonly Entry[]): readonly SizeHistory[] {
  const histories = new Map<CaptureId, SizeHistory>();
  const open = new Set<CaptureId>();
  for (const entry of entries) {
    if (!isCaptureEntry(entry)) continue;
    const { capture, value } = entry.data;
    const history = histories.get(capture) ?? begin(capture);
    switch (entry.type) {
      case 'capture.offered':
        histories.set(capture, {
          ...history,
          offers: history.offers + 1,
          // Another offer over an open one is a correction.
          corrected: history.corrected + (open.has(capture) ? 1 : 0),
        });
        open.add(capture);
        break;
      case 'capture.confirmed':
        open.delete(capture);
        histories.set(capture, {
          ...history,
          value,
          confirmedAt: { at: entry.at, mono: entry.mono, run: entry.run },
          source: entry.source,
          confirmed: history.confirmed + 1,
        });
        break;
      case 'capture.withdrawn':
        open.delete(capture);
        histories.set(capture, { ...history, corrected: history.corrected + 1 });
        break;
      case 'capture.lapsed':
        open.delete(capture);
        histories.set(capture, { ...history, lapsed: history.lapsed + 1 });
    }
  }
  return [...histories.values()];
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

function begin(capture: CaptureId): SizeHistory {
  return {
    capture,
    value: null,
    confirmedAt: null,
    source: null,
    offers: 0,
    corrected: 0,
    lapsed: 0,
    confirmed: 0,
  };
}
