/**
 * What was heard wrong, and how it was settled: speech that no listener understood, and
 * sizes that were offered by voice and then corrected, taken back or left to lapse.
 * A fold over entries.
 */
import type { CaptureId, CaptureValue, Entry, Source, Stamp } from '../domain';

export interface MisheardRow {
  readonly at: Stamp;
  /** The words that were heard; null where nothing was understood. */
  readonly words: string | null;
  /** What it was taken for; null where it was taken for nothing. */
  readonly offered: { readonly capture: CaptureId; readonly value: CaptureValue } | null;
  /** Why it did not stand. */
  readonly end: 'not understood' | 'corrected' | 'taken back' | 'lapsed';
  /** The value that was confirmed in the end, and from where; null where none was. */
  readonly settled: { readonly value: CaptureValue; readonly source: Source } | null;
}

/** One line for each, in the order in which it was heard. */
export function listMisheard(entries: readonly Entry[]): readonly MisheardRow[] {
  const rows: MisheardRow[] = [];
  /** Offers by voice that wait for an answer. */
  const open = new Map<CaptureId, Omit<MisheardRow, 'end' | 'settled'>>();
  const drop = (capture: CaptureId, end: MisheardRow['end']) => {
    const offer = open.get(capture);
    open.delete(capture);
    if (offer) rows.push({ ...offer, end, settled: null });
  };
  for (const [index, entry] of entries.entries()) {
    const before = entries[index - 1];
    const words = before?.type === 'phrase.heard' ? before.data.words : null;
    switch (entry.type) {
      case 'order.refused':
        if (entry.data.code === 'phrase-not-understood')
          rows.push({ at: stampOf(entry), words: null, offered: null, end: 'not understood', settled: null }); // prettier-ignore
        break;
      case 'capture.offered':
        drop(entry.data.capture, 'corrected');
        if (entry.source === 'voice')
          open.set(entry.data.capture, { at: stampOf(entry), words, offered: entry.data });
        break;
      case 'capture.withdrawn':
        drop(entry.data.capture, 'taken back');
        break;
      case 'capture.lapsed':
        drop(entry.data.capture, 'lapsed');
        break;
      case 'capture.confirmed':
        open.delete(entry.data.capture);
        settle(rows, entry.data.capture, { value: entry.data.value, source: entry.source });
    }
  }
  return rows.toSorted((a, b) => a.at.at - b.at.at);
}

/** The next confirmation of the same size settles everything that was wrong about it before. */
function settle(
  rows: MisheardRow[],
  capture: CaptureId,
  settled: NonNullable<MisheardRow['settled']>,
): void {
  for (const [index, row] of rows.entries())
    if (row.offered?.capture === capture && row.settled === null) rows[index] = { ...row, settled };
}

function stampOf({ at, mono, run }: Stamp): Stamp {
  return { at, mono, run };
}
