/**
 * The GS1 application identifiers that packs in a theatre carry, as data.
 * Source: GS1 Barcode Syntax Dictionary (GS1's own repository), which says the same
 * as the GS1 General Specifications, section 3. Identifiers for trade measures are
 * known by their length only, so that a label with one can still be read.
 */
export interface Gs1Part {
  readonly kind: 'digits' | 'text';
  readonly min: number;
  readonly max: number;
  readonly check?: 'mod-10' | 'date';
  readonly isOptional?: true;
}

export interface Gs1Identifier {
  readonly id: string;
  readonly title: string;
  readonly parts: readonly Gs1Part[];
  /** One of each list must be on the label too. */
  readonly requires: readonly (readonly string[])[];
  readonly excludes: readonly string[];
}

const digits = (min: number, max = min): Gs1Part => ({ kind: 'digits', min, max });
const text = (max: number): Gs1Part => ({ kind: 'text', min: 1, max });
const checked = (length: number): Gs1Part => ({ ...digits(length), check: 'mod-10' });
const date: Gs1Part = { ...digits(6), check: 'date' };

const ITEM = ['01', '02', '8006', '8026'];

function row(
  id: string,
  title: string,
  parts: readonly Gs1Part[],
  requires: readonly (readonly string[])[] = [],
  excludes: readonly string[] = [],
): Gs1Identifier {
  return { id, title, parts, requires, excludes };
}

const ROWS: readonly Gs1Identifier[] = [
  row('00', 'Logistic unit', [checked(18)]),
  row('01', 'Product number', [checked(14)], [], ['02', '255', '37']),
  row('02', 'Content', [checked(14)], [['37']]),
  row('10', 'Lot', [text(20)], [ITEM]),
  row('11', 'Made on', [date], [ITEM]),
  row('12', 'Due date', [date], [['8020']]),
  row('13', 'Packed on', [date], [ITEM]),
  row('15', 'Best before', [date], [ITEM]),
  row('16', 'Sell by', [date], [ITEM]),
  row('17', 'Use by', [date], [[...ITEM, '255']]),
  row('20', 'Variant', [digits(2)], [ITEM]),
  row('21', 'Serial', [text(20)], [['01', '8006']], ['235']),
  row('22', 'Consumer variant', [text(20)], [['01']]),
  row('235', 'Third-party serial', [text(28)], [['01']]),
  row('240', 'Additional number', [text(30)], [ITEM]),
  row('241', 'Customer part', [text(30)], [ITEM]),
  row('243', 'Packaging component', [text(20)], [['01']]),
  row('250', 'Second serial', [text(30)], [['01', '8006'], ['21']]),
  row('251', 'Source', [text(30)], [['01', '8006']]),
  row('255', 'Coupon', [checked(13), { ...digits(1, 12), isOptional: true }], [], ['01', '02', '8006', '8026']),
  row('30', 'Count', [digits(1, 8)], [['01', '02']]),
  row('37', 'Count of items', [digits(1, 8)], [['00'], ['02', '8026']]),
  row('400', 'Order', [text(30)]),
  row('410', 'Ship to', [checked(13)]),
  row('414', 'Location', [checked(13)]),
  row('710', 'National number DE', [text(20)], [['01']]),
  row('711', 'National number FR', [text(20)], [['01']]),
  row('712', 'National number ES', [text(20)], [['01']]),
  row('713', 'National number BR', [text(20)], [['01']]),
  row('714', 'National number PT', [text(20)], [['01']]),
  row('8006', 'Part of an item', [checked(14), digits(4)], [], ['01', '37']),
  row('8020', 'Payment slip', [text(25)]),
  row('8026', 'Content, part', [checked(14), digits(4)], [['37']], ['02', '8006']),
  ...Array.from({ length: 10 }, (_, n) => row(`9${n}`, `Internal 9${n}`, [text(n === 0 ? 30 : 90)])),
]; // prettier-ignore

const BY_ID: ReadonlyMap<string, Gs1Identifier> = new Map(ROWS.map((known) => [known.id, known]));

/** First two digits of identifiers whose length is known beforehand, so that no separator follows. */
const FIXED_LENGTH_STARTS: ReadonlySet<string> = new Set([
  '00', '01', '02', '03', '11', '12', '13', '15', '16', '17', '20',
  '31', '32', '33', '34', '35', '36', '41',
]); // prettier-ignore

/** Trade measures: weight, length, area, volume; four digits and six digits of value. */
const TRADE_MEASURE = /^3[1-6]\d\d/;

/** The identifier with which a text begins. */
export function identifierAt(rest: string): Gs1Identifier | null {
  for (const length of [2, 3, 4]) {
    const known = BY_ID.get(rest.slice(0, length));
    if (known && rest.length >= length) return known;
  }
  const measure = TRADE_MEASURE.exec(rest);
  return measure ? row(measure[0], 'Measure', [digits(6)], [['00', '01', '02']]) : null;
}

/** An identifier by its number alone. */
export function identifierOf(id: string): Gs1Identifier | null {
  const known = identifierAt(id);
  return known?.id === id ? known : null;
}

/** Whether a separator must follow a value that is not the last. */
export function needsSeparator({ id }: Gs1Identifier): boolean {
  return !FIXED_LENGTH_STARTS.has(id.slice(0, 2));
}
