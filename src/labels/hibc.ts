/**
 * HIBC codes (ANSI/HIBC 2.6): a primary part says which product, a secondary part lot,
 * serial number and dates; they come apart, linked by a character, or joined by "/".
 * The last character checks all others, modulo 43. Date forms and flags: hibc-dates.ts.
 */
import { ok } from '../domain';
import type { Fault, LabelData, LabelNotice, Result } from '../domain';
import { readSecondary, readSupplement } from './hibc-parts';
import type { HibcFields } from './hibc-parts';
import { faultAt } from './label-fault';

/** The characters in the order of their values, 0 to 42. */
const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%';

/** Labeller (a letter and three), product (1 to 18), packaging level (a digit). */
const PRIMARY = /^[A-Z][A-Z0-9]{3}[A-Z0-9]{1,18}[0-9]$/;

/** The check character: the sum of all values modulo 43. All characters must be in the alphabet. */
export function mod43CheckCharacter(text: string): string {
  let sum = 0;
  for (const character of text) sum += ALPHABET.indexOf(character);
  return ALPHABET.charAt(sum % 43);
}

/** Reads a HIBC code that begins with "+"; `start` is where it begins in the scan. */
export function readHibc(text: string, start: number, thisYear: number): Result<LabelData, Fault> {
  const wrong = [...text].findIndex((character) => !ALPHABET.includes(character));
  if (wrong >= 0) {
    const found = [...text][wrong] ?? '';
    return faultAt('label-character', start + wrong, {
      part: 'the code',
      found,
      expected: 'the 43 characters of HIBC',
    });
  }
  if (text.length < 4) {
    return faultAt('label-length', start, {
      part: 'The code',
      found: String(text.length),
      expected: 'at least 4',
    });
  }
  const body = text.slice(0, -1);
  const expected = mod43CheckCharacter(body);
  const found = text.slice(-1);
  if (found !== expected) {
    return faultAt('label-check', start + body.length, { part: 'the code', found, expected });
  }
  // The check character may itself be a "/", so it goes before the parts are told apart.
  const data = body.slice(1);
  return /^[A-Z]/.test(data)
    ? readWithPrimary(text, data, start + 1, thisYear)
    : readSecondaryAlone(text, data, start + 1, thisYear);
}

function readWithPrimary(
  text: string,
  data: string,
  at: number,
  thisYear: number,
): Result<LabelData, Fault> {
  const [primary = '', secondary, ...supplements] = data.split('/');
  if (!PRIMARY.test(primary)) {
    return faultAt('label-length', at, {
      part: 'The product part',
      found: String(primary.length),
      expected: 'a letter, three characters, 1 to 18 of the product and a digit',
    });
  }
  // Alone, the primary's check character is the link that its secondary part repeats.
  const link = mod43CheckCharacter(`+${primary}`);
  if (secondary === undefined) return ok(toLabel(text, {}, [], primary, link));
  const secondaryAt = at + primary.length + 1;
  const read = readFields(secondary, supplements, secondaryAt, thisYear);
  return read.ok ? ok(toLabel(text, read.value.fields, read.value.notices, primary, null)) : read;
}

function readSecondaryAlone(
  text: string,
  data: string,
  at: number,
  thisYear: number,
): Result<LabelData, Fault> {
  const link = data.slice(-1);
  const [secondary = '', ...supplements] = data.slice(0, -1).split('/');
  const read = readFields(secondary, supplements, at, thisYear);
  return read.ok ? ok(toLabel(text, read.value.fields, read.value.notices, null, link)) : read;
}

function readFields(
  secondary: string,
  supplements: readonly string[],
  at: number,
  thisYear: number,
): Result<{ readonly fields: HibcFields; readonly notices: readonly LabelNotice[] }, Fault> {
  const first = readSecondary(secondary, at, thisYear);
  if (!first.ok) return first;
  let fields = first.value;
  const notices: LabelNotice[] = [];
  let from = at + secondary.length + 1;
  for (const supplement of supplements) {
    const more = readSupplement(supplement, from);
    if (!more.ok) return more;
    if (more.value === null) notices.push('part-not-read');
    else {
      const clash = findClash(fields, more.value);
      if (clash) return faultAt('label-repeated', from, clash);
      fields = { ...fields, ...more.value };
    }
    from += supplement.length + 1;
  }
  return ok({ fields, notices });
}

function findClash(
  earlier: HibcFields,
  later: HibcFields,
): { readonly part: string; readonly found: string; readonly expected: string } | null {
  for (const [name, value] of Object.entries(later)) {
    const before: unknown = earlier[name as keyof HibcFields];
    if (before !== undefined && before !== value) {
      return { part: name, found: String(value), expected: String(before) };
    }
  }
  return null;
}

function toLabel(
  text: string,
  fields: HibcFields,
  notices: readonly LabelNotice[],
  product: string | null,
  link: string | null,
): LabelData {
  return {
    scheme: 'hibc',
    product,
    lot: fields.lot ?? null,
    serial: fields.serial ?? null,
    expiresOn: fields.expiresOn ?? null,
    madeOn: fields.madeOn ?? null,
    quantity: fields.quantity ?? null,
    readable: text,
    notices,
    link,
  };
}
