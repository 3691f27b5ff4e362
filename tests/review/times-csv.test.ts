/** The times as CSV, read back by a reader that follows RFC 4180's grammar and nothing else. */
import { describe, expect, test } from 'vitest';
import { caseTimesToCsv } from '../../src/review';
import { HandCase, OUTLINE } from './hand-case';

function parseCsv(text: string): string[][] {
  const rows: string[][] = [];
  const field = /("(?:[^"]|"")*"|[^",\r\n]*)(,|\r\n)/gy;
  let row: string[] = [];
  for (let hit = field.exec(text); hit; hit = field.exec(text)) {
    const [, raw = '', end] = hit;
    row.push(raw.startsWith('"') ? raw.slice(1, -1).replaceAll('""', '"') : raw);
    if (end === '\r\n') {
      rows.push(row);
      row = [];
    }
    if (field.lastIndex === text.length) return rows;
  }
  throw new Error('Not CSV');
}

function exportedCase(): string[][] {
  const hand = new HandCase().begin('cut').pass(1.5);
  hand.add({ type: 'clock.held', data: { reason: '=HYPERLINK("x"), two\r\nlines' } }).pass(0.5);
  hand.add({ type: 'clock.resumed', data: {} }).finish('cut').begin('clear').restart().pass(1);
  hand.add({ type: 'milestone.reached', data: { milestone: 'PIR' } }).pass(2);
  hand.add({ type: 'milestone.reached', data: { milestone: 'PST' } }).close();
  return parseCsv(caseTimesToCsv(hand.entries, OUTLINE, hand.now));
}

describe('times as CSV', () => {
  test('[REV16] every line has all columns, the mode and the case', () => {
    const [head, ...lines] = exportedCase();
    expect(head?.slice(0, 5)).toEqual(['mode', 'case', 'procedure', 'side', 'kind']);
    expect(lines.length).toBeGreaterThan(5);
    for (const line of lines) {
      expect(line).toHaveLength(head?.length ?? 0);
      expect(line.slice(0, 4)).toEqual(['demo', 'case-hand', 'Hand-made', 'left']);
    }
  });

  test('[REV16] times of day are ISO 8601 in UTC, durations are seconds', () => {
    const [head = [], ...lines] = exportedCase();
    const step = lines.find((line) => line[4] === 'step') ?? [];
    expect(step[head.indexOf('from')]).toBe('2026-03-04T13:25:00.000Z');
    expect(step[head.indexOf('to')]).toBe('2026-03-04T13:27:00.000Z');
    expect(step[head.indexOf('total_s')]).toBe('120');
  });

  test('[REV17] a reason that a spreadsheet would run is defused, and quotes survive', () => {
    const [head = [], ...lines] = exportedCase();
    const held = lines.find((line) => line[4] === 'clock held') ?? [];
    expect(held[head.indexOf('item')]).toBe('\'=HYPERLINK("x"), two\r\nlines');
  });

  test('[REV18] says on each line whether the wall clock had to be used', () => {
    const [head = [], ...lines] = exportedCase();
    const at = head.indexOf('estimated');
    const stepEstimates = lines.filter((line) => line[4] === 'step').map((line) => line[at]);
    expect(stepEstimates).toEqual(['no', 'yes']);
    expect(lines.find((line) => line[4] === 'phase')?.[at]).toBe('yes');
  });

  test('[REV16] a case without its opening entry is of unknown mode, never of a real one', () => {
    const hand = new HandCase().begin('cut').pass(1);
    const [, line] = parseCsv(caseTimesToCsv(hand.entries.slice(1), OUTLINE, hand.now));
    expect(line?.[0]).toBe('unknown');
  });
});
