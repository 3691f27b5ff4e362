/**
 * GS1 element strings: reads fields one after another, as they come from a scanner
 * with separators or as people type them with brackets, and checks each. Rules on
 * what may stand together are in gs1-rules.ts. Positions count from the scan's start.
 */
import { ok } from '../domain';
import type { Fault, LabelNotice, Result } from '../domain';
import { fullYear, toIsoDate } from './dates';
import { identifierAt, identifierOf, needsSeparator } from './gs1-identifiers';
import type { Gs1Identifier, Gs1Part } from './gs1-identifiers';
import { faultAt } from './label-fault';

/** What separates fields of open length: the group separator, ASCII 29. */
export const SEPARATOR = '\u001d';

export interface Gs1Element {
  readonly identifier: Gs1Identifier;
  readonly value: string;
  /** Where its identifier begins. */
  readonly at: number;
}

export interface Gs1Elements {
  readonly elements: readonly Gs1Element[];
  readonly notices: readonly LabelNotice[];
}

/** GS1's character set 82: no space, no accents. */
const CSET_82 = /^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]$/;

/** Reads an element string with separators; `start` is where it begins in the scan. */
export function readElements(
  text: string,
  start: number,
  thisYear: number,
): Result<Gs1Elements, Fault> {
  const elements: Gs1Element[] = [];
  const notices = new Set<LabelNotice>();
  let at = 0;
  while (at < text.length) {
    const rest = text.slice(at);
    const identifier = identifierAt(rest);
    if (!identifier) return faultAt('label-identifier', start + at, { found: rest.slice(0, 4) });
    const valueAt = at + identifier.id.length;
    const length = valueLength(text.slice(valueAt), identifier);
    const value = text.slice(valueAt, valueAt + length);
    const checked = checkValue(identifier, value, start + valueAt, thisYear);
    if (!checked.ok) return checked;
    for (const notice of checked.value) notices.add(notice);
    elements.push({ identifier, value, at: start + at });
    at = valueAt + length;
    if (text[at] === SEPARATOR) {
      at += 1;
      if (!needsSeparator(identifier) || at === text.length) notices.add('separator-not-needed');
    }
  }
  return ok({ elements, notices: [...notices] });
}

/** Reads fields as printed beside the bars: (01)09520123456788(17)271130. */
export function readBracketed(
  text: string,
  start: number,
  thisYear: number,
): Result<Gs1Elements, Fault> {
  const elements: Gs1Element[] = [];
  const notices = new Set<LabelNotice>();
  let at = 0;
  while (at < text.length) {
    const opened = /^\((\d{2,4})\)/.exec(text.slice(at));
    const identifier = opened?.[1] === undefined ? null : identifierOf(opened[1]);
    if (!opened || !identifier)
      return faultAt('label-identifier', start + at, { found: text.slice(at, at + 6) });
    const valueAt = at + opened[0].length;
    const next = text.slice(valueAt).search(/\(\d{2,4}\)/);
    const end = next < 0 ? text.length : valueAt + next;
    const value = text.slice(valueAt, end);
    const checked = checkValue(identifier, value, start + valueAt, thisYear);
    if (!checked.ok) return checked;
    for (const notice of checked.value) notices.add(notice);
    elements.push({ identifier, value, at: start + at });
    at = end;
  }
  return ok({ elements, notices: [...notices] });
}

/** The check digit, from the right with weights 3 and 1 (GS1 General Specifications, "Standard check digit calculations"). */
export function mod10CheckDigit(withoutCheck: string): number {
  let sum = 0;
  for (let index = 0; index < withoutCheck.length; index += 1) {
    const weight = (withoutCheck.length - index) % 2 === 1 ? 3 : 1;
    sum += weight * Number(withoutCheck[index]);
  }
  return (10 - (sum % 10)) % 10;
}

/** A date on a label in the form YYMMDD; null where it is none. */
export function gs1DateToIso(value: string, thisYear: number): string | null {
  if (!/^\d{6}$/.test(value)) return null;
  const [year, month, day] = [0, 2, 4].map((from) => Number(value.slice(from, from + 2)));
  return toIsoDate(fullYear(year ?? 0, thisYear), month ?? 0, day ?? 0);
}

/** How much of the rest belongs to a value: all of a fixed length, else up to a separator. */
function valueLength(rest: string, identifier: Gs1Identifier): number {
  const separator = rest.indexOf(SEPARATOR);
  const upTo = separator < 0 ? rest.length : separator;
  if (needsSeparator(identifier)) return upTo;
  const fixed = identifier.parts.reduce((sum, { max }) => sum + max, 0);
  return Math.min(fixed, upTo);
}

function checkValue(
  { title, parts }: Gs1Identifier,
  value: string,
  at: number,
  thisYear: number,
): Result<readonly LabelNotice[], Fault> {
  const notices: LabelNotice[] = [];
  let from = 0;
  for (const part of parts) {
    const text = value.slice(from, from + part.max);
    if (part.isOptional && text === '') continue;
    const checked = checkPart(title, part, text, at + from, thisYear);
    if (!checked.ok) return checked;
    if (part.check === 'date' && text.endsWith('00')) notices.push('day-not-given');
    from += text.length;
  }
  const most = parts.reduce((sum, { max }) => sum + max, 0);
  return from < value.length
    ? faultAt('label-length', at, {
        part: title,
        found: String(value.length),
        expected: `at most ${most}`,
      })
    : ok(notices);
}

function checkPart(
  title: string,
  { kind, min, max, check }: Gs1Part,
  text: string,
  at: number,
  thisYear: number,
): Result<null, Fault> {
  const wrong = [...text].findIndex((character) =>
    kind === 'digits' ? !/^[0-9]$/.test(character) : !CSET_82.test(character),
  );
  if (wrong >= 0) {
    const expected = kind === 'digits' ? 'the digits' : 'character set 82';
    return faultAt('label-character', at + wrong, {
      part: title,
      found: [...text][wrong] ?? '',
      expected,
    });
  }
  if (text.length < min) {
    const expected = min === max ? String(min) : `${min} to ${max}`;
    return faultAt('label-length', at, { part: title, found: String(text.length), expected });
  }
  if (check === 'mod-10') {
    const expected = String(mod10CheckDigit(text.slice(0, -1)));
    const found = text.slice(-1);
    if (found !== expected)
      return faultAt('label-check', at + text.length - 1, { part: title, found, expected });
  }
  if (check === 'date' && gs1DateToIso(text, thisYear) === null) {
    return faultAt('label-date', at, {
      part: title,
      found: text,
      expected: 'year, month and day (YYMMDD)',
    });
  }
  return ok(null);
}
