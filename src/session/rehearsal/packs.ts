/**
 * The packs of a rehearsal: what a scanner sends for an article, and the orders that scan,
 * open and implant it. Lots and serial numbers are invented.
 */
import type { LabelData, PackEvent, RoomOrder } from '../../domain';
import type { Catalogue } from '../../sizing';
import type { ImplantsView } from '../view/view-implants';

/** The separator between fields of a GS1 label, as scanners send it. */
const SEPARATOR = '\u001d';
const LOT = 'LOT1';

/** One pack in its box. */
export interface RehearsalPack {
  readonly article: string;
  readonly serial: string;
  /** The last day on which it may be used, as ISO day. */
  readonly expiresOn: NonNullable<LabelData['expiresOn']>;
}

/** What a scanner sends for a pack; null where the catalogue has no number for its article. */
export function packToScan(
  catalogue: Catalogue,
  { article, serial, expiresOn }: RehearsalPack,
): string | null {
  const product = productOf(catalogue, article);
  const day = expiresOn.replaceAll('-', '').slice(2);
  return product && `]d201${product}17${day}10${LOT}${SEPARATOR}21${serial}`;
}

/** The orders that scan a pack and then say what becomes of it. */
export function packOrders(
  catalogue: Catalogue,
  pack: RehearsalPack,
  events: readonly PackEvent[],
): readonly RoomOrder[] {
  const text = packToScan(catalogue, pack);
  const product = productOf(catalogue, pack.article);
  if (text === null || product === null) return [];
  const id = [product, pack.serial, LOT].join('|');
  return [
    { type: 'label.scan', text, isAnother: false },
    ...events.map((event): RoomOrder => ({ type: 'pack.move', pack: id, event, reason: '' })),
  ];
}

/** The orders that fetch the next pack that is still to be scanned; none where all are. */
export function fetchOrders(
  catalogue: Catalogue | null,
  { articles, notScanned, packs }: ImplantsView,
  atMs: number,
): readonly RoomOrder[] {
  const article = articles.find(({ title }) => title === notScanned[0]);
  if (!catalogue || !article) return [];
  // One serial number a pack: two of one size are two packs.
  const pack = {
    article: article.id,
    serial: `R${packs.length + 1}`,
    expiresOn: expiryAfter(atMs),
  };
  return packOrders(catalogue, pack, ['opened', 'implanted']);
}

/** The first day of January two years after a moment: in date on any day that a rehearsal is played. */
export function expiryAfter(atMs: number, years = 2): string {
  return `${new Date(atMs).getFullYear() + years}-01-01`;
}

function productOf(catalogue: Catalogue, article: string): string | null {
  return (
    catalogue.components
      .map(({ numbers }) => numbers[article]?.[0])
      .find((found) => found !== undefined) ?? null
  );
}
