/**
 * How many of each article are in the room, and whether the size that is likely to be
 * wanted next is among them. Counted only where somebody has counted: an article that
 * nobody counted is unknown, not missing.
 */
import type { Side } from '../../domain';
import type { Article } from './articles';
import { articleWanted, expectSizes } from './chains';
import type { Chosen } from './chains';
import type { Catalogue, Slot } from './format';

/** Articles in the room by id, as counted, less what was opened since. */
export type Stock = Readonly<Record<string, number>>;

export interface Shortage {
  readonly slot: Slot;
  readonly article: Article;
  /** Whether its sizes are confirmed; otherwise they are planned or follow from others. */
  readonly isConfirmed: boolean;
}

/** Slots whose likely article was counted and is not in the room; filled slots are left out. */
export function listShortages(
  catalogue: Catalogue,
  stock: Stock,
  confirmed: Chosen,
  plan: Chosen,
  side: Side,
  filled: ReadonlySet<string>,
): readonly Shortage[] {
  const expected = expectSizes(catalogue, confirmed, plan);
  return catalogue.slots.flatMap((slot): Shortage[] => {
    const article = articleWanted(catalogue, slot, expected, side);
    if (!article || filled.has(slot.id) || stock[article.id] !== 0) return [];
    return [
      {
        slot,
        article,
        isConfirmed: Object.values(slot.from).every((capture) => capture in confirmed),
      },
    ];
  });
}
