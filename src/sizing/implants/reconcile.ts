/**
 * What does not agree before closure: sizes that were confirmed but have no pack, and
 * packs that were opened or implanted but are not what was confirmed.
 */
import type { Side } from '../../domain';
import { articleWanted, componentOf } from '../catalogue/chains';
import type { Chosen } from '../catalogue/chains';
import type { Catalogue } from '../catalogue/format';
import { isTaken } from './log';
import type { ImplantLog, Pack } from './log';

export interface Discrepancies {
  /** Confirmed, and no pack of it was opened: article titles by slot. */
  readonly notScanned: readonly { readonly slot: string; readonly title: string }[];
  /** Opened or implanted, and not what is confirmed: pack ids. */
  readonly notConfirmed: readonly string[];
  /** Opened, and nobody has said what became of it. */
  readonly unsettled: readonly string[];
}

/** Whether nothing is left to scan, to question or to settle. */
export function isReconciled({ notScanned, notConfirmed, unsettled }: Discrepancies): boolean {
  return notScanned.length + notConfirmed.length + unsettled.length === 0;
}

/** Compares confirmed sizes with the packs. Only sterile implants count; instruments have no label to scan. */
export function reconcile(
  catalogue: Catalogue,
  log: ImplantLog,
  confirmed: Chosen,
  side: Side,
): Discrepancies {
  const taken = log.packs.filter((pack) => isTaken(pack));
  const places = catalogue.slots.flatMap((slot) => {
    const component = componentOf(catalogue, slot);
    if (component?.kind !== 'implant' || !component.sterilePack) return [];
    return [{ slot: slot.id, article: articleWanted(catalogue, slot, confirmed, side) }];
  });
  const agreesWith = ({ slot, article }: Pack): boolean =>
    places.some((place) => place.slot === slot && place.article?.id === article);
  return {
    notScanned: places.flatMap(({ slot, article }) =>
      article && !taken.some((pack) => pack.slot === slot && pack.article === article.id)
        ? [{ slot, title: article.title }]
        : [],
    ),
    notConfirmed: taken.filter((pack) => !agreesWith(pack)).map(({ id }) => id),
    unsettled: log.packs.filter(({ state }) => state === 'opened').map(({ id }) => id),
  };
}
