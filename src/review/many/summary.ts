/**
 * Many cases at a glance: holds by reason, overrides, read-backs and speech; how long
 * they took is in times.ts. One walk over the columns. Durations in minutes.
 */
import type { CaseDigest, SpeechDigest } from '../digest/case-digest';
import type { CaseTable, Row } from './case-table';
import type { Numbers } from './numbers';

export interface RankedReason {
  readonly reason: string;
  readonly count: number;
  readonly minutes: number;
}

export interface ManyCases {
  readonly caseCount: number;
  readonly holds: readonly RankedReason[];
  readonly overrides: readonly RankedReason[];
  readonly refusedAt: readonly RankedReason[];
  readonly readBacks: CaseDigest['readBacks'];
  readonly speech: readonly SpeechDigest[];
}

const MINUTE_MS = 60_000;

/** Adds everything up; rows oldest first. */
export function summariseCases(table: CaseTable, rows: readonly Row[]): ManyCases {
  const { columns: it } = table;
  const total = (column: Numbers) => rows.reduce((sum, row) => sum + column.at(row), 0);
  return {
    caseCount: rows.length,
    holds: rank(table, rows, 'holds', it.holdReason, it.holdMs),
    overrides: rank(table, rows, 'overrides', it.override),
    refusedAt: rank(table, rows, 'refused', it.refusedAt),
    readBacks: {
      offered: total(it.offered),
      confirmed: total(it.confirmed),
      corrected: total(it.corrected),
      lapsed: total(it.lapsed),
    },
    speech: addSpeech(table, rows),
  };
}

/** How often a case went back to do something again. */
export function countLoops({ phases }: CaseDigest): number {
  return phases.reduce((sum, { passesMs }) => sum + Math.max(0, passesMs.length - 1), 0);
}

/** Most frequent first; of equals the one that took longest. */
function rank(
  table: CaseTable,
  rows: readonly Row[],
  list: 'holds' | 'overrides' | 'refused',
  reasons: Numbers,
  durations?: Numbers,
): readonly RankedReason[] {
  const sums = sumByWord(table, rows, list, reasons, [null, durations ?? null]);
  return sums
    .map(({ word, sums: [count = 0, ms = 0] }) => ({
      reason: word,
      count,
      minutes: durations ? ms / MINUTE_MS : 0,
    }))
    .sort((a, b) => b.count - a.count || b.minutes - a.minutes);
}

/** Worst share first, so that what to train or rename stands on top. */
function addSpeech(table: CaseTable, rows: readonly Row[]): readonly SpeechDigest[] {
  const { speechOf, attempts, first } = table.columns;
  return sumByWord(table, rows, 'speech', speechOf, [attempts, first])
    .map(({ word, sums: [tried = 0, right = 0] }) => {
      const [person = '', phrase = ''] = word.split('\n');
      return { person, phrase, attempts: tried, first: right };
    })
    .sort((a, b) => a.first / a.attempts - b.first / b.attempts);
}

/**
 * The sums of some columns for each word of a list, in the order in which the words were
 * first met; null counts. Codes are small numbers, so sums lie in arrays at their code's place.
 */
function sumByWord(
  table: CaseTable,
  rows: readonly Row[],
  list: 'holds' | 'overrides' | 'refused' | 'speech',
  words: Numbers,
  columns: readonly (Numbers | null)[],
): readonly { readonly word: string; readonly sums: readonly number[] }[] {
  const codes = words.values;
  const size = table.words.texts.length;
  const met = new Uint8Array(size);
  const order: number[] = [];
  const parts = columns.map((column) => ({
    values: column?.values ?? null,
    sums: new Float64Array(size),
  }));
  for (const row of rows) {
    const { from, to } = table.spanOf(list, row);
    for (let place = from; place < to; place += 1) {
      const code = codes[place] as number;
      if (met[code] === 0) order.push(code);
      met[code] = 1;
      for (const { values, sums } of parts) (sums[code] as number) += values ? (values[place] as number) : 1; // prettier-ignore
    }
  }
  return order.map((code) => ({
    word: table.words.textOf(code),
    sums: parts.map(({ sums }) => sums[code] as number),
  }));
}
