/**
 * A scan as it arrives: perhaps with a prefix and a suffix that the scanner was set to
 * send, perhaps with a symbology identifier (ISO/IEC 15424) such as "]d2", perhaps
 * typed. Finds out what it is and has it read. The same call serves scanner, camera
 * and keyboard.
 */
import { ok } from '../domain';
import type { Fault, LabelData, Result } from '../domain';
import { gs1DateToIso, readBracketed, readElements, SEPARATOR } from './gs1';
import type { Gs1Elements } from './gs1';
import { checkTogether } from './gs1-rules';
import { readHibc } from './hibc';
import { faultAt } from './label-fault';

export interface ScanSettings {
  /** What the scanner was set to send before and after each code; empty for nothing. */
  readonly prefix: string;
  readonly suffix: string;
  /** What the scanner sends for the group separator where a keyboard can't; empty for the character itself. */
  readonly separator: string;
  /** The year in which it is scanned; two-digit years are read from it. */
  readonly thisYear: number;
}

/** Symbology identifiers that announce GS1 element strings: GS1-128, GS1 DataMatrix, GS1 QR, DataBar and composite. */
const GS1_CARRIERS = [']C1', ']d2', ']Q3', ']e0'];
/** Symbology identifiers of an EAN-13 or UPC-A, which holds a product number and nothing else. */
const PRODUCT_CARRIER = ']E0';

/** Reads one scan. The fault says what is wrong and where in the text as it arrived, a separator counting as one. */
export function readScan(text: string, settings: ScanSettings): Result<LabelData, Fault> {
  const { body, start } = unwrap(text, settings);
  if (body === '') return faultAt('label-empty', 0);
  const carrier = /^\][A-Za-z][0-9A-Za-z]/.exec(body)?.[0] ?? null;
  const data = carrier === null ? body : body.slice(carrier.length);
  const at = start + (carrier?.length ?? 0);
  const { thisYear } = settings;
  if (carrier === PRODUCT_CARRIER) return readProduct(data, at, thisYear);
  if (carrier !== null && GS1_CARRIERS.includes(carrier)) return readGs1(data, at, thisYear);
  // Code 39 readers may pass on its start and stop characters.
  const bare = /^\*(\+.*)\*$/.exec(data)?.[1];
  if (bare !== undefined) return readHibc(bare, at + 1, thisYear);
  if (data.startsWith('+')) return readHibc(data, at, thisYear);
  return carrier === null
    ? readTyped(data, at, thisYear)
    : faultAt('label-not-known', start, { found: carrier });
}

/** Without a symbology identifier the first character has to tell. */
function readTyped(data: string, at: number, thisYear: number): Result<LabelData, Fault> {
  if (data.startsWith('(')) return toLabel(readBracketed(data, at, thisYear), thisYear);
  return /^[\u001d0-9]/.test(data)
    ? readGs1(data, at, thisYear)
    : faultAt('label-not-known', at, { found: data.slice(0, 3) });
}

function unwrap(
  text: string,
  { prefix, suffix, separator }: ScanSettings,
): { readonly body: string; readonly start: number } {
  const start = prefix !== '' && text.startsWith(prefix) ? prefix.length : 0;
  const end = suffix !== '' && text.endsWith(suffix) ? text.length - suffix.length : text.length;
  // A key that ends the scan (Enter, Tab) may come with it.
  const body = text.slice(start, Math.max(start, end)).replace(/[\r\n\t]+$/, '');
  return { body: separator === '' ? body : body.replaceAll(separator, SEPARATOR), start };
}

function readGs1(data: string, at: number, thisYear: number): Result<LabelData, Fault> {
  // A keyboard wedge may pass on the first FNC1, which only says that this is GS1 data.
  const skip = data.startsWith(SEPARATOR) ? 1 : 0;
  const body = data.slice(skip);
  if (body === '') return faultAt('label-empty', at);
  return toLabel(readElements(body, at + skip, thisYear), thisYear);
}

function readProduct(data: string, at: number, thisYear: number): Result<LabelData, Fault> {
  if (!/^(\d{8}|\d{12,14})$/.test(data)) {
    return faultAt('label-length', at, { part: 'Product number', found: String(data.length), expected: '8 or 12 to 14' }); // prettier-ignore
  }
  // Shorter product numbers are the same number with zeros in front; places stay those of the scan.
  return toLabel(
    readElements(`01${data.padStart(14, '0')}`, at - 16 + data.length, thisYear),
    thisYear,
  );
}

function toLabel(read: Result<Gs1Elements, Fault>, thisYear: number): Result<LabelData, Fault> {
  if (!read.ok) return read;
  const { elements, notices } = read.value;
  const together = checkTogether(elements);
  if (!together.ok) return together;
  const value = (id: string): string | null =>
    elements.find(({ identifier }) => identifier.id === id)?.value ?? null;
  const date = (id: string): string | null => {
    const digits = value(id);
    return digits === null ? null : gs1DateToIso(digits, thisYear);
  };
  const count = value('30');
  return ok({
    scheme: 'gs1',
    product: value('01') ?? value('8006'),
    lot: value('10'),
    serial: value('21'),
    expiresOn: date('17'),
    madeOn: date('11'),
    quantity: count === null ? null : Number(count),
    readable: elements.map(({ identifier: { id }, value: text }) => `(${id})${text}`).join(''),
    notices,
    link: null,
  });
}
