/** What did not go straight: overrides with their reasons, refusals, steps left out. Folds over entries. */
import { faultToOperatorText } from '../domain';
import type { ConditionState, Entry, HoldPointId, OperatorText, Source, Stamp } from '../domain';

export interface OverrideRow {
  readonly holdPoint: HoldPointId;
  readonly reason: string;
  /** What was missing when it was asked for. */
  readonly missing: readonly string[];
  readonly askedAt: Stamp;
  /** `undone`: granted, and then the last order was taken back, so that the hold point was closed again. */
  readonly outcome: 'granted' | 'withdrawn' | 'undone' | 'unanswered';
  readonly answeredAt: Stamp | null;
}

export interface RefusalRow {
  readonly seq: number;
  readonly at: Stamp;
  readonly source: Source;
  /** The words that were heard, where it was said. */
  readonly words: string | null;
  readonly text: OperatorText;
  readonly holdPoint: HoldPointId | null;
  readonly conditions: readonly ConditionState[];
}

/** Overrides in the order in which they were asked for; one that was taken back passed nothing. */
export function listOverrides(entries: readonly Entry[]): readonly OverrideRow[] {
  const rows: OverrideRow[] = [];
  /** The entries that granted each row, by its place. */
  const granted = new Map<number, number>();
  for (const entry of entries) {
    if (entry.type === 'order.undone') {
      for (const [place, seq] of granted) {
        const row = rows[place];
        if (row && seq >= entry.data.since) rows[place] = { ...row, outcome: 'undone' };
      }
    } else if (entry.type === 'override.requested') {
      const { holdPoint, reason, missing } = entry.data;
      rows.push({
        holdPoint,
        reason,
        missing,
        askedAt: stampOf(entry),
        outcome: 'unanswered',
        answeredAt: null,
      });
    } else if (entry.type === 'override.granted' || entry.type === 'override.withdrawn') {
      const asked = rows.findLastIndex(({ holdPoint }) => holdPoint === entry.data.holdPoint);
      const row = rows[asked];
      if (!row || row.outcome !== 'unanswered') continue;
      if (entry.type === 'override.granted') granted.set(asked, entry.seq);
      rows[asked] = {
        ...row,
        // What counts is what was missing when it was passed.
        missing: entry.type === 'override.granted' ? entry.data.missing : row.missing,
        outcome: entry.type === 'override.granted' ? 'granted' : 'withdrawn',
        answeredAt: stampOf(entry),
      };
    }
  }
  return rows;
}

/** Refusals in order, each with the words heard just before it. */
export function listRefusals(entries: readonly Entry[]): readonly RefusalRow[] {
  return entries.flatMap((entry, index): RefusalRow[] => {
    if (entry.type !== 'order.refused') return [];
    const { code, params, holdPoint, conditions } = entry.data;
    const before = entries[index - 1];
    return [
      {
        seq: entry.seq,
        at: stampOf(entry),
        source: entry.source,
        words:
          entry.source === 'voice' && before?.type === 'phrase.heard' ? before.data.words : null,
        text: faultToOperatorText({ code, params }),
        holdPoint,
        conditions,
      },
    ];
  });
}

function stampOf({ at, mono, run }: Stamp): Stamp {
  return { at, mono, run };
}
