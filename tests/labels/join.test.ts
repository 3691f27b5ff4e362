/** Packs with two bar codes. */
import { expect, test } from 'vitest';
import { isPartial, joinLabels, mod43CheckCharacter } from '../../src/labels';
import { reads } from './scans';

const whole = (data: string): string => data + mod43CheckCharacter(data);

test('[LAB14] lot and date wait for the product, in either order', () => {
  const product = reads('(01)09520123456788');
  const rest = reads('(17)271130(10)ABC');
  expect([isPartial(product), isPartial(rest)]).toEqual([false, true]);
  for (const joined of [joinLabels(product, rest), joinLabels(rest, product)]) {
    expect(joined).toMatchObject({
      ok: true,
      value: {
        product: '09520123456788',
        lot: 'ABC',
        expiresOn: '2027-11-30',
        readable: '(01)09520123456788(17)271130(10)ABC',
      },
    });
  }
});

test('[LAB14] HIBC parts join by their link character', () => {
  const primary = reads('+A123BJC5D6E71G');
  expect(joinLabels(primary, reads('+$$52001510X3GD'))).toMatchObject({
    ok: true,
    value: { product: 'A123BJC5D6E71', lot: '10X3' },
  });
  const ofAnother = reads(whole('+$$52001510X3K'));
  expect(joinLabels(primary, ofAnother)).toMatchObject({
    ok: false,
    error: { code: 'label-link' },
  });
});

test.each([
  ['(01)09520123456788', '+A123BJC5D6E71G'],
  ['(17)271130', '(10)ABC'],
  ['(01)09520123456788', '(01)51022222233336'],
  ['(01)09520123456788(10)A', '(10)B'],
])('[LAB14] %s and %s are not of one pack', (one, other) => {
  expect(joinLabels(reads(one), reads(other))).toMatchObject({
    ok: false,
    error: { code: 'label-link' },
  });
});
