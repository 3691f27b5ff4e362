/**
 * What stands after the product in a HIBC code: a secondary part with its flag, date
 * form and lot or serial number, and supplements such as /S and /14D. The quantity
 * flags 8 and 9 and the flagless form are from memory, not from an opened source.
 */
import { ok } from '../domain';
import type { Fault, Result } from '../domain';
import { dayOfYearToIso, fullYear, toIsoDate } from './dates';
import { faultAt } from './label-fault';

export interface HibcFields {
  readonly lot?: string;
  readonly serial?: string;
  readonly expiresOn?: string;
  readonly madeOn?: string;
  readonly quantity?: number;
}

interface DateForm {
  readonly pattern: RegExp;
  readonly read: (digits: readonly number[], thisYear: number) => string | null;
  readonly form: string;
}

const monthYear: DateForm = {
  pattern: /^(\d\d)(\d\d)/,
  read: ([month = 0, year = 0], now) => toIsoDate(fullYear(year, now), month, 0),
  form: 'MMYY',
};
const dayOfYear = (pattern: RegExp, form: string): DateForm => ({
  pattern,
  read: ([year = 0, day = 0], now) => dayOfYearToIso(fullYear(year, now), day),
  form,
});

/** Date forms by the digit after "$$". */
const DATE_FORMS: Readonly<Record<string, DateForm>> = {
  '2': {
    pattern: /^2(\d\d)(\d\d)(\d\d)/,
    read: ([month = 0, day = -1, year = 0], now) => realDay(fullYear(year, now), month, day),
    form: 'MMDDYY',
  },
  '3': {
    pattern: /^3(\d\d)(\d\d)(\d\d)/,
    read: ([year = 0, month = 0, day = -1], now) => realDay(fullYear(year, now), month, day),
    form: 'YYMMDD',
  },
  '4': {
    pattern: /^4(\d\d)(\d\d)(\d\d)(?:[01]\d|2[0-3])/,
    read: ([year = 0, month = 0, day = -1], now) => realDay(fullYear(year, now), month, day),
    form: 'YYMMDDHH',
  },
  '5': dayOfYear(/^5(\d\d)(\d\d\d)/, 'YYJJJ'),
  '6': dayOfYear(/^6(\d\d)(\d\d\d)(?:[01]\d|2[0-3])/, 'YYJJJHH'),
};

/** How long a lot or serial number may be. */
const MAX_NAME = 18;

/** Reads a secondary part: `$10X3`, `$+1234`, `$$3271130LOT`, `$$+7SERIAL`. */
export function readSecondary(
  text: string,
  at: number,
  thisYear: number,
): Result<HibcFields, Fault> {
  const flagless = dayOfYear(/^(\d\d)(\d\d\d)/, 'YYJJJ');
  if (/^\d/.test(text)) return readDated(text, at, thisYear, flagless, 'lot', {});
  const flag = /^\$\$\+|^\$\$|^\$\+|^\$/.exec(text)?.[0];
  if (flag === undefined) {
    return faultAt('label-identifier', at, { found: text.slice(0, 3) });
  }
  const name = flag.endsWith('+') ? 'serial' : 'lot';
  const rest = text.slice(flag.length);
  if (!flag.startsWith('$$')) return readName(rest, at + flag.length, name, {});
  return readAfterQuantity(rest, at + flag.length, thisYear, name);
}

/** Reads a supplement; null for one that this program does not read. */
export function readSupplement(text: string, at: number): Result<HibcFields | null, Fault> {
  const dated = /^(14D|16D)(.*)$/.exec(text);
  if (dated) {
    const [, kind, digits = ''] = dated;
    const parts = /^(\d{4})(\d\d)(\d\d)$/.exec(digits)?.slice(1).map(Number) ?? [];
    const date = realDay(parts[0] ?? 0, parts[1] ?? 0, parts[2] ?? -1);
    if (date === null) {
      return faultAt('label-date', at, { part: kind === '14D' ? 'Use by' : 'Made on', found: digits, expected: 'YYYYMMDD' }); // prettier-ignore
    }
    return ok(kind === '14D' ? { expiresOn: date } : { madeOn: date });
  }
  if (text.startsWith('S')) return readName(text.slice(1), at + 1, 'serial', {});
  if (/^Q\d{1,5}$/.test(text)) return ok({ quantity: Number(text.slice(1)) });
  return text === ''
    ? faultAt('label-length', at, { part: 'A part', found: '0', expected: 'at least 1' })
    : ok(null);
}

function readAfterQuantity(
  text: string,
  at: number,
  thisYear: number,
  name: 'lot' | 'serial',
): Result<HibcFields, Fault> {
  const counted = /^8(\d\d)|^9(\d{5})/.exec(text);
  if (!counted) return readFlagged(text, at, thisYear, name, {});
  const quantity = Number(counted[1] ?? counted[2]);
  return readFlagged(text.slice(counted[0].length), at + counted[0].length, thisYear, name, {
    quantity,
  });
}

function readFlagged(
  text: string,
  at: number,
  thisYear: number,
  name: 'lot' | 'serial',
  fields: HibcFields,
): Result<HibcFields, Fault> {
  const flag = text.charAt(0);
  if (flag === '7') return readName(text.slice(1), at + 1, name, fields);
  const form = flag === '0' || flag === '1' ? monthYear : DATE_FORMS[flag];
  return form
    ? readDated(text, at, thisYear, form, name, fields)
    : faultAt('label-date', at, {
        part: 'Use by',
        found: text.slice(0, 6),
        expected: 'a date form from 0 to 7',
      });
}

function readDated(
  text: string,
  at: number,
  thisYear: number,
  { pattern, read, form }: DateForm,
  name: 'lot' | 'serial',
  fields: HibcFields,
): Result<HibcFields, Fault> {
  const match = pattern.exec(text);
  const date = match && read(match.slice(1).map(Number), thisYear);
  if (!match || date === null) {
    return faultAt('label-date', at, { part: 'Use by', found: text.slice(0, 9), expected: form });
  }
  const rest = text.slice(match[0].length);
  const dated = { ...fields, expiresOn: date };
  return rest === '' ? ok(dated) : readName(rest, at + match[0].length, name, dated);
}

function readName(
  text: string,
  at: number,
  name: 'lot' | 'serial',
  fields: HibcFields,
): Result<HibcFields, Fault> {
  return text.length >= 1 && text.length <= MAX_NAME
    ? ok({ ...fields, [name]: text })
    : faultAt('label-length', at, {
        part: name === 'lot' ? 'Lot' : 'Serial',
        found: String(text.length),
        expected: `1 to ${MAX_NAME}`,
      });
}

/** A day that must be named: 00 is no day in HIBC. */
function realDay(year: number, month: number, day: number): string | null {
  return day >= 1 ? toIsoDate(year, month, day) : null;
}
