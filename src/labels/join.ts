/**
 * Two bar codes of one pack: one says which product, the other lot, serial number and
 * date. Joined, they must say one thing. A HIBC secondary part names its primary by a
 * link character.
 */
import { err, fault, ok } from '../domain';
import type { Fault, LabelData, Result } from '../domain';

/** Whether a label names no product yet, so that another bar code of the pack is wanted. */
export function isPartial({ product }: LabelData): boolean {
  return product === null;
}

/** Joins a bar code that names the product with one that does not, in either order. */
export function joinLabels(one: LabelData, other: LabelData): Result<LabelData, Fault> {
  const [first, second] = isPartial(one) ? [other, one] : [one, other];
  const clash =
    first.scheme !== second.scheme ||
    isPartial(first) ||
    (second.product !== null && second.product !== first.product) ||
    first.link !== second.link ||
    fields.some(
      (field) => first[field] !== null && second[field] !== null && first[field] !== second[field],
    );
  if (clash) {
    return err(fault('label-link', { found: second.readable, expected: first.readable }));
  }
  return ok({
    scheme: first.scheme,
    product: first.product,
    lot: first.lot ?? second.lot,
    serial: first.serial ?? second.serial,
    expiresOn: first.expiresOn ?? second.expiresOn,
    madeOn: first.madeOn ?? second.madeOn,
    quantity: first.quantity ?? second.quantity,
    readable:
      first.scheme === 'gs1'
        ? first.readable + second.readable
        : `${first.readable} ${second.readable}`,
    notices: [...new Set([...first.notices, ...second.notices])],
    link: null,
  });
}

const fields = ['lot', 'serial', 'expiresOn', 'madeOn', 'quantity'] as const;
