/** Files of many cases: CSV through a strict parser, JSON out and in again without duplicates. */
import { parse } from 'csv-parse/sync';
import { describe, expect, test } from 'vitest';
import { casesToCsv, digestsToJson, mergeDigests, phasesToCsv } from '../../src/review';
import type { CaseDigest } from '../../src/review';
import { digestOf } from './synthetic-team';
import { readReviewFile } from '../support/review-file';

const cases: readonly CaseDigest[] = [
  {
    ...digestOf(
      [
        { id: 'reaming', passesMin: [6.5, 2] },
        { id: 'screws', passesMin: [9] },
      ],
      1,
    ),
    procedure: '=HYPERLINK("x";"y"), with "quotes"\r\nand a line',
    roles: ['surgeon A', '+scrub A'],
    named: { PIR: 0, POR: 3_600_000 },
    holds: [{ reason: 'imaging', ms: 90_000 }],
  },
  digestOf([{ id: 'reaming', passesMin: [7] }], 2),
];
const read = (text: string) =>
  parse(text, {
    columns: true,
    record_delimiter: '\r\n',
    relax_column_count: false,
    relax_quotes: false,
  }) as Record<string, string>[];

describe('CSV', () => {
  test('[REV46] one row a case; a strict parser reads every field back', () => {
    const rows = read(casesToCsv(cases));
    expect(rows).toHaveLength(2);
    expect(rows[0]).toMatchObject({
      mode: 'demo', case: 'made-1', total_min: '17.5', loops: '1', clock_held_min: '1.5', side: 'left',
      opened_utc: '1970-01-02 00:00:00', PIR_utc: '1970-01-01 00:00:00', POR_utc: '1970-01-01 01:00:00', AS_utc: '',
      estimated: 'no',
    }); // prettier-ignore
  });

  test('[REV46] one row a phase, with its passes', () => {
    const rows = read(phasesToCsv(cases));
    expect(
      rows.map((row) => [
        row['case'],
        row['phase_id'],
        row['total_min'],
        row['passes'],
        row['first_pass_min'],
        row['counted'],
      ]),
    ).toEqual([
      ['made-1', 'reaming', '8.5', '2', '6.5', 'yes'],
      ['made-1', 'screws', '9', '1', '9', 'yes'],
      ['made-2', 'reaming', '7', '1', '7', 'yes'],
    ]);
  });

  test('[REV46] no text is run as a formula, and the mode is in every row', () => {
    const [row] = read(casesToCsv(cases));
    expect(row?.['procedure']).toBe('\'=HYPERLINK("x";"y"), with "quotes"\r\nand a line');
    for (const text of [casesToCsv(cases), phasesToCsv(cases)]) {
      expect(read(text).every(({ mode }) => mode === 'demo')).toBe(true);
    }
  });
});

describe('the file for another machine', () => {
  test('[REV47] comes back as it went, and is merged without duplicates', () => {
    const back = readReviewFile(digestsToJson(cases));
    if (!back.ok) throw new Error('Our own file is read');
    expect(back.value).toEqual(JSON.parse(JSON.stringify(cases)));
    const [first, second] = cases;
    if (!first || !second) throw new Error('There are two');
    expect(mergeDigests([first], back.value)).toMatchObject({ added: 1, same: 1 });
    expect(mergeDigests(cases, back.value).digests).toHaveLength(2);
    expect(mergeDigests(mergeDigests([], back.value).digests, back.value)).toMatchObject({
      added: 0,
      same: 2,
    });
  });

  test('[REV47] the fuller one of two stands, whichever comes first', () => {
    const [first] = cases;
    if (!first) throw new Error('There is one');
    const fuller = { ...first, entryCount: 200 };
    expect(mergeDigests([first], [fuller]).digests[0]?.entryCount).toBe(200);
    expect(mergeDigests([fuller], [first]).digests[0]?.entryCount).toBe(200);
  });

  test.each([
    ['not JSON', 'hello'],
    ['another file', '{"format":"cuewall-case","version":1,"entries":[]}'],
    ['a newer version', '{"format":"cuewall-review","version":2,"cases":[]}'],
    ['a case without its id', digestsToJson([{ ...digestOf([], 1), caseId: '' as never }])],
    ['a negative time', digestsToJson([{ ...digestOf([], 1), totalMs: -1 }])],
    ['a mode of its own', digestsToJson([{ ...digestOf([], 1), mode: 'other' as never }])],
    [
      'text where a number belongs',
      digestsToJson(cases).replace('"totalMs":1050000', '"totalMs":"1"'),
    ],
  ])('[REV47] refuses %s with a message', (_, text) => {
    const back = readReviewFile(text);
    expect(back.ok).toBe(false);
    if (!back.ok) expect(back.error.code).toBe('review-file-unreadable');
  });
});
