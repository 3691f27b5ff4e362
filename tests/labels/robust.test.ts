/** Bad data: mutated labels, any text at all, and bwip-js as a second opinion. */
import { fc, test as property } from '@fast-check/vitest';
import bwip from 'bwip-js/node';
import { expect, test } from 'vitest';
import { faultToOperatorText } from '../../src/domain';
import { mod10CheckDigit, mod43CheckCharacter, readScan } from '../../src/labels';
import { isChecked, mutations } from './mutated';
import { PLAIN } from './scans';

/** A hundred thousand in every run; `CUEWALL_MUTATIONS=1000000` for the long one. */
const MUTATIONS = Number(process.env['CUEWALL_MUTATIONS'] ?? 100_000);

test(
  '[LAB15] mutated labels never crash and never pass with a wrong check',
  { timeout: 600_000 },
  () => {
    let passed = 0;
    for (const text of mutations(7, MUTATIONS)) {
      const read = readScan(text, PLAIN);
      if (!read.ok) continue;
      passed += 1;
      if (!isChecked(read.value)) throw new Error(`passed: ${JSON.stringify(text)}`);
    }
    // Some must pass, or the check above would say nothing.
    expect(passed).toBeGreaterThan(1000);
  },
);

property.prop([fc.string({ unit: 'binary', maxLength: 60 })])(
  '[LAB15] any text gets an answer',
  (text) => {
    const read = readScan(text, PLAIN);
    expect(read.ok || faultToOperatorText(read.error).happened.length > 0).toBe(true);
  },
);

property.prop([fc.string({ unit: 'binary', maxLength: 30 })])(
  '[LAB16] every refusal says what and where, without a gap in its text',
  (text) => {
    const read = readScan(`]d201${text}`, PLAIN);
    if (read.ok) return;
    const { happened } = faultToOperatorText(read.error);
    expect(happened).not.toContain('…');
    expect(Number(read.error.params.at)).toBeGreaterThan(0);
  },
);

/** Whether bwip-js, which carries GS1's own checks, would draw this. */
function isDrawn(bcid: string, text: string, options: object = {}): boolean {
  try {
    bwip.raw({ bcid, text, ...options } as never);
    return true;
  } catch {
    return false;
  }
}

const product = fc
  .tuple(fc.stringMatching(/^\d{13}$/), fc.integer({ min: 0, max: 9 }), fc.boolean())
  .map(([body, digit, isRight]) => body + String(isRight ? mod10CheckDigit(body) : digit));
const date = fc.oneof(
  fc.stringMatching(/^\d{6}$/),
  fc
    .tuple(fc.nat(99), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 0, max: 31 }))
    .map((parts) => parts.map((part) => String(part).padStart(2, '0')).join('')),
);
const name = fc.oneof(
  fc.stringMatching(/^[A-Z0-9]{1,22}$/),
  fc.stringMatching(/^[!"%&'*+,\-./:;<=>?_a-z #$@]{1,6}$/),
);

property.prop([product, date, name, name, fc.integer({ min: 0, max: 3 })], { numRuns: 300 })(
  '[LAB17] GS1 strings are taken and refused as bwip-js takes and refuses them',
  (gtin, day, lot, serial, shape) => {
    const text =
      [
        `(01)${gtin}(17)${day}(10)${lot}`,
        `(01)${gtin}(10)${lot}(21)${serial}`,
        `(01)${gtin}(11)${day}(30)${day}(240)${lot}`,
        `(01)${gtin}(21)${serial}(235)${lot}`,
      ][shape] ?? '';
    expect(readScan(text, PLAIN).ok, text).toBe(isDrawn('gs1datamatrix', text));
  },
);

property.prop([fc.stringMatching(/^[A-Z][A-Z0-9]{3}[A-Z0-9]{1,18}\d$/), fc.nat(42), fc.boolean()], {
  numRuns: 200,
})('[LAB17] HIBC check characters are judged as bwip-js judges them', (primary, value, isRight) => {
  const alphabet = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%';
  const check = isRight ? mod43CheckCharacter(`+${primary}`) : alphabet.charAt(value);
  const drawn = isDrawn('hibccode39', primary + check, { validatecheck: true });
  expect(readScan(`+${primary}${check}`, PLAIN).ok).toBe(drawn);
});
