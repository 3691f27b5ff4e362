/** Exported files, read back by an independent reader of CSV. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rowsToCsv } from '../../src/domain';
import { caseToCsv, caseToJson, completeStored, createMemoryStore } from '../../src/record';
import { expectOk } from './expectations';
import { CASE_A, DAY_MS, makeCase, makeEntry } from './entry-samples';

describe('JSON', () => {
  test('[REC16] names its format and holds every entry as it is stored', async () => {
    const store = createMemoryStore();
    expectOk(await store.append(CASE_A, makeCase(CASE_A, 5)));
    const values = expectOk(await store.readStored(CASE_A));
    expect(JSON.parse(caseToJson(values))).toEqual({
      format: 'cuewall-case',
      version: 2,
      mode: 'demo',
      count: 5,
      hash: (values[4] as { hash: string }).hash,
      entries: values,
    });
  });

  test('[REC16] holds what only memory has, sealed behind what is stored', async () => {
    const store = createMemoryStore();
    expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
    const stored = expectOk(await store.readStored(CASE_A));
    const all = await completeStored(stored, makeCase(CASE_A, 5));
    expectOk(await store.append(CASE_A, makeCase(CASE_A, 5).slice(3)));
    expect(all).toEqual(expectOk(await store.readStored(CASE_A)));
  });
});

describe('CSV', () => {
  // RFC 4180, section 2: rules 1 (CRLF), 3 (header), 6 (quoted fields) and 7 (doubled quotes).
  test('[REC17] quotes as RFC 4180 says', () => {
    expect(rowsToCsv([['plain', 'a,b', 'say "two"', 'line\nbreak', 24]])).toBe(
      'plain,"a,b","say ""two""","line\nbreak",24\r\n',
    );
  });

  test('[REC17] gives back any text, read by the grammar of RFC 4180', () => {
    const Cell = fc
      .string({ unit: 'grapheme' })
      .filter((text) => !/^\s*[=+\-@\t\r\n＝＋－＠]/u.test(text));
    const Rows = fc.array(fc.array(Cell, { minLength: 2, maxLength: 5 }), { minLength: 1 });
    fc.assert(
      fc.property(Rows, (rows) => {
        expect(parseCsv(rowsToCsv(rows))).toEqual(rows);
      }),
    );
  });

  // The characters are those of OWASP, "CSV Injection": = + - @ tab, carriage return, line feed, full-width forms.
  test.each([
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '\n=1',
    ' =1',
    '＝1',
    '＋1',
    '－1',
    '＠1',
  ])('[REC18] takes the formula out of %j', (text) => {
    const [[cell]] = parseCsv(rowsToCsv([[text]])) as [[string]];
    expect(cell).toBe(`'${text}`);
  });

  test('[REC18] leaves numbers alone', () => {
    expect(rowsToCsv([[-5, 0.5]])).toBe('-5,0.5\r\n');
  });

  test('[REC17] has one line for each entry, with times in ISO 8601 and the mode', () => {
    const entries = [
      ...makeCase(CASE_A, 1),
      makeEntry(CASE_A, 1, { type: 'clock.held', data: { reason: '=cmd|calc' } }),
    ];
    const [header, opening, held] = parseCsv(caseToCsv(entries));
    expect(header?.join(' ')).toBe('mode case seq at mono_ms run source version type data');
    expect(opening?.slice(0, 4)).toEqual(['demo', 'case-a', '0', new Date(DAY_MS).toISOString()]);
    expect(held?.slice(8)).toEqual(['clock.held', '{"reason":"=cmd|calc"}']);
  });
});

/** A reader written from the grammar in RFC 4180, section 2, one character at a time. */
function parseCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let field = '';
  let isQuoted = false;
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i] ?? '';
    if (isQuoted && c === '"' && text[i + 1] === '"') {
      field += c;
      i += 1;
    } else if (c === '"') isQuoted = !isQuoted;
    else if (!isQuoted && c === ',') {
      row.push(field);
      field = '';
    } else if (!isQuoted && c === '\r' && text[i + 1] === '\n') {
      rows.push([...row, field]);
      row = [];
      field = '';
      i += 1;
    } else field += c;
  }
  return rows;
}
