/**
 * HIBC codes (ANSI/HIBC 2.6). Vectors: the standard's examples as quoted in public test
 * suites and programming manuals, public documentation of a text-extraction grammar,
 * HL7 and FDA samples; every check character was worked out again outside this project.
 */
import { expect, test } from 'vitest';
import { mod43CheckCharacter } from '../../src/labels';
import { reads, refuses } from './scans';

test.each([
  ['+A123BJC5D6E71', 'G'],
  ['+A1234BJC5D6E71', 'K'],
  ['07000503', 'F'],
  ['159AZ', 'H'],
  ['+$$52001510X3G', 'D'],
  ['+A123BJC5D6E71/$$52001510X3', 'C'],
  ['+A99912345/$$52001510X3', '3'],
  ['+X999123ABC0/$1234AB/S5678EDFG/16D20151001/14D20190515', '.'],
])('[LAB10] the check character of %s is %s', (data, check) => {
  expect(mod43CheckCharacter(data)).toBe(check);
});

const X999 = 'S5678EDFG/16D20151001';

test.each([
  ['+A123BJC5D6E71G', { product: 'A123BJC5D6E71', link: 'G' }],
  ['+$$52001510X3GD', { product: null, lot: '10X3', expiresOn: '2020-01-15', link: 'G' }],
  [
    '+A123BJC5D6E71/$$52001510X3C',
    { product: 'A123BJC5D6E71', lot: '10X3', expiresOn: '2020-01-15' },
  ],
  ['+A99912345/$$52001510X33', { product: 'A99912345', lot: '10X3', expiresOn: '2020-01-15' }],
  [
    '+A99912345/$$52001510X3/16D20111212/S77DEFG457',
    { expiresOn: '2020-01-15', lot: '10X3', madeOn: '2011-12-12', serial: '77DEFG45' },
  ],
  [
    '+A99912345/$10X3/16D20111231/14D202001313',
    { lot: '10X3', madeOn: '2011-12-31', expiresOn: '2020-01-31' },
  ],
  ['+A99912349/$10X3/16D20111231/14D20200131/Q500Z', { lot: '10X3', quantity: 500 }],
  [
    '+J123AQ3451/$$3231231BC34567/S4012R',
    { expiresOn: '2023-12-31', lot: 'BC34567', serial: '4012' },
  ],
  [
    `+X999123ABC0/$$05191234AB/${X999}A`,
    { expiresOn: '2019-05-31', lot: '1234AB', serial: '5678EDFG', madeOn: '2015-10-01' },
  ],
  [`+X999123ABC0/$$20515191234AB/${X999}I`, { expiresOn: '2019-05-15', lot: '1234AB' }],
  [`+X999123ABC0/$$31905151234AB/${X999}J`, { expiresOn: '2019-05-15', lot: '1234AB' }],
  [`+X999123ABC0/$$4190515211234AB/${X999}N`, { expiresOn: '2019-05-15', lot: '1234AB' }],
  [`+X999123ABC0/$$5191351234AB/${X999}J`, { expiresOn: '2019-05-15', lot: '1234AB' }],
  [`+X999123ABC0/$$619135211234AB/${X999}N`, { expiresOn: '2019-05-15', lot: '1234AB' }],
  [
    '+X999123ABC0/$1234AB/S5678EDFG/16D20151001/14D20190515.',
    { expiresOn: '2019-05-15', lot: '1234AB', serial: '5678EDFG' },
  ],
])('[LAB11] %s reads %o', (code, expected) => {
  expect(reads(code)).toMatchObject({ scheme: 'hibc', ...expected });
});

/** A code with its check character put right, for forms of which no whole vector was found. */
const whole = (data: string): string => data + mod43CheckCharacter(data);

test.each([
  ['+A99912345/$+SER1', { serial: 'SER1', lot: null }],
  ['+A99912345/$$+7SER1', { serial: 'SER1', lot: null, expiresOn: null }],
  ['+A99912345/$$+3271130SER1', { serial: 'SER1', expiresOn: '2027-11-30' }],
  ['+A99912345/$$7LOT1', { lot: 'LOT1', expiresOn: null }],
  [
    '+A99912345/$$812 3271130LOT1'.replace(' ', ''),
    { quantity: 12, lot: 'LOT1', expiresOn: '2027-11-30' },
  ],
  ['+A99912345/$$9001200630LOT1', { quantity: 120, lot: 'LOT1', expiresOn: '2030-06-30' }],
  ['+A99912345/27034LOT1', { lot: 'LOT1', expiresOn: '2027-02-03' }],
])('[LAB11] %s, checked by hand, reads %o', (data, expected) => {
  expect(reads(whole(data))).toMatchObject(expected);
});

test('[LAB12] the published UDI sample with a wrong check character is refused, with the right one named', () => {
  // FDA and HL7 print this sample ending in C; its sum of 834 gives 17, which is H.
  const sample =
    '+H123PARTNO1234567890120/$$420020216LOT123456789012345/SXYZ456789012345678/16D20130202';
  expect(mod43CheckCharacter(sample)).toBe('H');
  expect(refuses(`${sample}C`)).toEqual({ code: 'label-check', at: String(sample.length + 1) });
  expect(reads(`${sample}H`)).toMatchObject({
    product: 'H123PARTNO1234567890120',
    lot: 'LOT123456789012345',
    serial: 'XYZ456789012345678',
    expiresOn: '2020-02-02',
    madeOn: '2013-02-02',
  });
});

test.each([
  ['+a123BJC5D6E71G', 'label-character', 2],
  ['+A1', 'label-length', 1],
  [whole('+A12/$LOT'), 'label-length', 2],
  [whole('+A99912345/$$3271330LOT1'), 'label-date', 14],
  [whole('+A99912345/$$3270200LOT1'), 'label-date', 14],
  [whole('+A99912345/$$527366LOT1'), 'label-date', 14],
  [whole('+A99912345/$$427113024LOT1'), 'label-date', 14],
  [whole('+A99912345/$'), 'label-length', 13],
  [whole('+A99912345/LOT'), 'label-identifier', 12],
  [whole('+A99912345/$LOT/14D20270229'), 'label-date', 17],
  [whole('+A99912345/$$3271130LOT/14D20271201'), 'label-repeated', 25],
  [whole('+A99912345/$LOT12345678901234567890'), 'label-length', 13],
])('[LAB12] %s is refused as %s at place %i', (code, expected, at) => {
  expect(refuses(code)).toEqual({ code: expected, at: String(at) });
});

test('[LAB13] a check character that is a stroke does not split the code', () => {
  const data = '+A99912345/$LOT';
  const slashed = Array.from({ length: 43 }, (_, n) => whole(`${data}${n}`)).find((code) =>
    code.endsWith('/'),
  );
  expect(slashed).toBeDefined();
  expect(reads(slashed ?? '').lot).toMatch(/^LOT\d+$/);
});

test.each([']C0', ']A0', ']d1', ']Q1'])('[LAB7] %s may carry a HIBC code', (carrier) => {
  expect(reads(`${carrier}+A123BJC5D6E71G`).product).toBe('A123BJC5D6E71');
});

test('[LAB7] Code 39’s start and stop characters are no part of the code', () => {
  expect(reads('*+A123BJC5D6E71G*').product).toBe('A123BJC5D6E71');
});
