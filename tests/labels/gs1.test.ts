/**
 * GS1 element strings. Sources beside the numbers: GS1's Barcode Syntax Dictionary and
 * Syntax Engine (its own repositories: lint_csum.c, lint_cset82.c, lint_yymmd0.c, ai.c,
 * scandata.c), national GS1 pages on check digits, FDA "UDI formats" v1.3 of 2017.
 */
import { expect, test } from 'vitest';
import { fullYear, gs1DateToIso, mod10CheckDigit, readScan } from '../../src/labels';
import { PLAIN, reads, refuses, scanned } from './scans';

test.each([
  ['6291041500213', 'GS1 Hong Kong'],
  ['8904000210037', 'GS1 India'],
  ['7300011000017', 'GS1 Sweden'],
  ['51022222233336', 'FDA UDI formats'],
  ['09520123456788', 'GS1 Syntax Engine tests'],
  ['09521234543213', 'GS1 Syntax Engine tests'],
  ['00844588003288', 'HL7 FHIR Device example'],
  ['10614141000415', 'computed'],
  ['00000000000000', 'ten becomes nought'],
  ['02345673', 'lint_csum.c'],
  ['416000336108', 'lint_csum.c'],
  ['1234567890128', 'lint_csum.c'],
  ['12345678901231', 'lint_csum.c'],
  ['123456789012345675', 'lint_csum.c'],
])('[LAB1] %s has the right check digit (%s)', (number) => {
  expect(String(mod10CheckDigit(number.slice(0, -1)))).toBe(number.slice(-1));
});

test.each(['12345673', '416000336109', '1234567890129', '12345678901232', '123456789012345670'])(
  '[LAB1] %s has a wrong check digit (lint_csum.c)',
  (number) => {
    expect(String(mod10CheckDigit(number.slice(0, -1)))).not.toBe(number.slice(-1));
  },
);

test('[LAB1] every single wrong digit of a product number is caught, with its place', () => {
  const good = '51022222233336';
  let caught = 0;
  for (let place = 0; place < good.length; place += 1) {
    for (const digit of '0123456789') {
      if (digit === good[place]) continue;
      const bad = good.slice(0, place) + digit + good.slice(place + 1);
      expect(refuses(`]d201${bad}`)).toEqual({ code: 'label-check', at: '19' });
      caught += 1;
    }
  }
  expect(caught).toBe(126);
});

test('[LAB1] neighbours that differ by five may change places unseen: that is the method’s limit', () => {
  // 1 and 6 in 09521634..., swapped; the sum of the weighted digits stays the same modulo ten.
  const body = '0952163456789';
  const swapped = '0952613456789';
  expect(mod10CheckDigit(body)).toBe(mod10CheckDigit(swapped));
});

test('[LAB1] a space in front of a number is refused', () => {
  expect(refuses(']d200 23456789012345675')).toMatchObject({ code: 'label-character', at: '6' });
});

const CENTURIES = [
  [2026, 2000, 2001, 2002, 2049, 2050, 2075, 2076, 1977, 1998, 1999],
  [2050, 2100, 2001, 2002, 2049, 2050, 2075, 2076, 2077, 2098, 2099],
  [2051, 2100, 2101, 2002, 2049, 2050, 2075, 2076, 2077, 2098, 2099],
  [2099, 2100, 2101, 2102, 2149, 2050, 2075, 2076, 2077, 2098, 2099],
] as const;

test.each(CENTURIES)('[LAB2] seen from %i, two digits mean %i …', (thisYear, ...expected) => {
  const years = [0, 1, 2, 49, 50, 75, 76, 77, 98, 99].map((two) => fullYear(two, thisYear));
  expect(years).toEqual(expected);
});

test.each([
  ['000606', '2000-06-06'],
  ['200229', '2020-02-29'],
  ['240229', '2024-02-29'],
  ['000229', '2000-02-29'],
  ['200131', '2020-01-31'],
  ['210228', '2021-02-28'],
  ['240200', '2024-02-29'],
  ['250200', '2025-02-28'],
])('[LAB2] %s is %s (lint_yymmd0.c, lint_yymmdd.c)', (digits, iso) => {
  expect(gs1DateToIso(digits, 2026)).toBe(iso);
  const label = reads(`]d2010952012345678817${digits}`);
  expect(label.expiresOn).toBe(iso);
  expect(label.notices).toEqual(digits.endsWith('00') ? ['day-not-given'] : []);
});

test.each([
  '210229',
  '200230',
  '200431',
  '200010',
  '201310',
  '200132',
  '2x0131',
  '20013',
  '2001311',
])('[LAB2] %s is no date (lint_yymmdd.c)', (digits) => {
  expect(gs1DateToIso(digits, 2026)).toBeNull();
  expect(refuses(`]d2010952012345678817${digits}`)).not.toBeNull();
});

test('[LAB3] all 82 characters may stand in a lot, no other', () => {
  for (const lot of [
    '!"%&\'()*+,-./012345',
    '6789:;<=>?ABCDEFGHIJ',
    'KLMNOPQRSTUVWXYZ_abc',
    'defghijklmnopqrstuvw',
    'xyz',
  ]) {
    expect(reads(`]d2010952012345678810${lot}`).lot).toBe(lot);
  }
  const places = { 'ABC ': 24, 'AB C': 23, ' ABC': 21, ABCé: 24, 'A#': 22, A$B: 22 };
  for (const [lot, place] of Object.entries(places)) {
    expect(refuses(`]d2010952012345678810${lot}`)).toEqual({
      code: 'label-character',
      at: String(place + 1),
    });
  }
});

test.each([
  ['^01123456789012311012345', '(01)12345678901231(10)12345'],
  ['^1012345^11991225', '(10)12345(11)991225'],
  ['^0112345678901231^', '(01)12345678901231'],
  ['^0112345678901231^991234', '(01)12345678901231(99)1234'],
  ['^011231231231233310ABC123^99TESTING', '(01)12312312312333(10)ABC123(99)TESTING'],
])('[LAB4] %s reads %s (GS1 Syntax Engine, ai.c and scandata.c)', (encoded, readable) => {
  expect(reads(scanned(encoded)).readable).toBe(readable);
});

test('[LAB4] a separator that is not needed is allowed, and noticed', () => {
  expect(reads(scanned('^0112345678901231^')).notices).toEqual(['separator-not-needed']);
  expect(reads(scanned('^0112345678901231^991234')).notices).toEqual(['separator-not-needed']);
  expect(reads(scanned('^1012345^11991225')).notices).toEqual([]);
});

test.each([
  ['^0112345678901234', 'label-check', 19],
  ['^011234567890123', 'label-length', 6],
  ['^01123456789012312', 'label-identifier', 20],
  ['(10)(11)98765', 'label-length', 5],
  ['(10)12345(11)', 'label-length', 14],
  ['(01)123456789012312(10)12345', 'label-length', 5],
  ['(17)9(90)217', 'label-length', 5],
  [']C101123123123133^10ABC', 'label-character', 18],
])('[LAB5] %s is refused as %s at place %i (GS1 Syntax Engine)', (encoded, code, at) => {
  const text = encoded.startsWith(']') ? encoded : scanned(encoded);
  expect(refuses(text)).toEqual({ code, at: String(at) });
});

test.each([
  ['(01)12345678901231(02)12345678901231(37)5', 'label-pair'],
  ['(01)12345678901231(37)123', 'label-pair'],
  ['(01)12345678901231(21)ABC123(235)XYZ', 'label-pair'],
  ['(02)12345678901231', 'label-needs'],
  ['(400)ABC(400)XYZ', 'label-repeated'],
  ['(01)12345678901231(37)00', 'label-pair'],
  ['(01)12345678901231(250)ABC', 'label-needs'],
])('[LAB6] %s is refused as %s (GS1 Syntax Dictionary, pairs and repeats)', (text, code) => {
  expect(refuses(text)?.code).toBe(code);
});

test('[LAB6] a field may stand twice with the same value', () => {
  expect(reads('(400)ABC(400)ABC').product).toBeNull();
});

test.each([']C1', ']d2', ']Q3', ']e0'])('[LAB7] %s announces GS1 data', (carrier) => {
  expect(reads(`${carrier}0151022222233336`).product).toBe('51022222233336');
});

test.each([']d1', ']Q1', ']A0', ']X0'])('[LAB7] %s does not announce GS1 data', (carrier) => {
  expect(refuses(`${carrier}0151022222233336`)).toEqual({ code: 'label-not-known', at: '1' });
});

test('[LAB8] the published UDI reads whole, from scanner and from print (FDA UDI formats v1.3)', () => {
  const label = {
    scheme: 'gs1', product: '51022222233336', madeOn: '2014-12-31', expiresOn: '2015-07-07',
    lot: 'A213B1', serial: '1234', quantity: null, notices: [], link: null,
    readable: '(01)51022222233336(11)141231(17)150707(10)A213B1(21)1234',
  }; // prettier-ignore
  expect(reads(scanned('^0151022222233336111412311715070710A213B1^211234'))).toEqual(label);
  expect(reads('(01)51022222233336(11)141231(17)150707(10)A213B1(21)1234')).toEqual(label);
});

test('[LAB8] count and additional number are read', () => {
  const label = reads(scanned('^01095201234567883012^240AN-7'));
  expect(label).toMatchObject({ quantity: 12, readable: '(01)09520123456788(30)12(240)AN-7' });
});

test('[LAB8] a bar code of HL7’s example with no separator characters of its own is refused', () => {
  // Its bytes hold an arrow where a separator belongs, so it can't be read as printed.
  const carrier = ']d201108576740020171714112010NYFUL01↔21192837↔713A1B2C3D4E5F6G';
  expect(refuses(carrier)?.code).toBe('label-character');
  const restored = carrier.replaceAll('↔', '\u001d');
  expect(reads(restored)).toMatchObject({
    product: '10857674002017',
    lot: 'NYFUL01',
    serial: '192837',
    expiresOn: '2014-11-20',
  });
});

test('[LAB9] prefix, suffix, Enter and a stand-in for the separator, as keyboard scanners send them', () => {
  const settings = { prefix: '~~', suffix: '##', separator: '<GS>', thisYear: 2026 };
  const read = readScan(
    '~~]d20109520123456788103B7<GS>21A1##\r\n'.replace('##\r\n', '##'),
    settings,
  );
  expect(read).toMatchObject({ ok: true, value: { lot: '3B7', serial: 'A1' } });
  expect(readScan('0109520123456788\r\n', PLAIN).ok).toBe(true);
  expect(readScan('\u001d0109520123456788\t', PLAIN).ok).toBe(true);
  expect(readScan('~~##', settings)).toMatchObject({ ok: false, error: { code: 'label-empty' } });
});

test('[LAB9] places are counted in what arrived, prefix included', () => {
  const read = readScan('~~0109520123456789', { ...PLAIN, prefix: '~~' });
  expect(read).toMatchObject({
    error: { code: 'label-check', params: { at: '18', expected: '8' } },
  });
});

test('[LAB9] a plain product code names a product only', () => {
  expect(reads(']E06291041500213')).toMatchObject({ product: '06291041500213', lot: null });
  expect(refuses(']E06291041500214')).toEqual({ code: 'label-check', at: '16' });
  expect(refuses(']E0629104150')?.code).toBe('label-length');
});
