/**
 * Which size goes with which: what the captures so far make of each slot, where a fit
 * is broken, and which other sizes would fit. Values come by capture id, as the case
 * has them; a slot whose captures the procedure lacks stays empty.
 */
import type { CaptureValue, Side } from '../../domain';
import { attributeToText, listArticles } from './articles';
import type { Article } from './articles';
import type { AttributeValue, Catalogue, Component, Fit, Slot } from './format';

/** Sizes by capture. */
export type Chosen = Readonly<Record<string, CaptureValue>>;

export interface Break {
  readonly fit: Fit;
  /** What was to be put in, and the value that breaks the fit. */
  readonly slot: Slot;
  readonly value: AttributeValue;
  /** What is there already. */
  readonly against: Slot;
  readonly againstValue: AttributeValue;
  /** Other values of the same attribute that would fit, as text. */
  readonly wouldFit: readonly string[];
}

/** The component of a slot. */
export function componentOf({ components }: Catalogue, { component }: Slot): Component | null {
  return components.find(({ id }) => id === component) ?? null;
}

/** What is known of a slot's size: attributes with values, from the captures. */
export function slotValues(slot: Slot, chosen: Chosen): Readonly<Record<string, AttributeValue>> {
  return Object.fromEntries(
    Object.entries(slot.from).flatMap(([attribute, capture]) => {
      const value = chosen[capture];
      return value === undefined ? [] : [[attribute, value]];
    }),
  );
}

/** The one article that the captures ask for in a slot; null while any attribute is open. */
export function articleWanted(
  catalogue: Catalogue,
  slot: Slot,
  chosen: Chosen,
  side: Side,
): Article | null {
  const component = componentOf(catalogue, slot);
  const known = slotValues(slot, chosen);
  const [first, ...more] = component
    ? listArticles(component).filter(
        (article) => agrees(article, known) && (article.side === null || article.side === side),
      )
    : [];
  return first && more.length === 0 && Object.keys(known).length > 0 ? first : null;
}

/** Whether an article has the values that are known. */
export function agrees(article: Article, known: Readonly<Record<string, AttributeValue>>): boolean {
  return Object.entries(known).every(([attribute, value]) => article.values[attribute] === value);
}

/** Fits that values in a slot would break, given what the other slots hold. */
export function findBreaks(
  catalogue: Catalogue,
  slot: Slot,
  values: Readonly<Record<string, AttributeValue>>,
  chosen: Chosen,
): readonly Break[] {
  return catalogue.fits.flatMap((fit) =>
    catalogue.slots
      .filter((against) => against.id !== slot.id)
      .flatMap((against) => {
        const ends = endsOf(fit, slot, against);
        if (!ends) return [];
        const value = values[ends.mine.attribute];
        const againstValue = slotValues(against, chosen)[ends.theirs.attribute];
        if (value === undefined || againstValue === undefined) return [];
        const goesWith = (mine: AttributeValue): boolean =>
          ends.isTurned ? isFit(fit, againstValue, mine) : isFit(fit, mine, againstValue);
        if (goesWith(value)) return [];
        return [{ fit, slot, value, against, againstValue, wouldFit: listFitting(catalogue, slot, ends.mine.attribute, goesWith) }]; // prettier-ignore
      }),
  );
}

/** Breaks among the sizes chosen so far, each once, told of the slot that comes later in the catalogue. */
export function listBreaks(catalogue: Catalogue, chosen: Chosen): readonly Break[] {
  const place = (slot: Slot): number => catalogue.slots.indexOf(slot);
  return catalogue.slots.flatMap((slot) =>
    findBreaks(catalogue, slot, slotValues(slot, chosen), chosen).filter(
      ({ against }) => place(against) < place(slot),
    ),
  );
}

/** Captures with their likely values: confirmed ones, then what follows from equal sizes, then planned ones. */
export function expectSizes(catalogue: Catalogue, confirmed: Chosen, plan: Chosen): Chosen {
  const expected: Record<string, CaptureValue> = { ...confirmed };
  for (const fit of catalogue.fits) {
    if (fit.rule.type !== 'same') continue;
    for (const [from, to] of [[fit.one, fit.other], [fit.other, fit.one]] as const) {
      const known = capturesOf(catalogue, from).map((capture) => confirmed[capture]).find((value) => value !== undefined);
      for (const capture of capturesOf(catalogue, to)) {
        if (known !== undefined && !(capture in expected)) expected[capture] = known;
      }
    }
  } // prettier-ignore
  return { ...plan, ...expected };
}

function capturesOf({ slots }: Catalogue, end: Fit['one']): readonly string[] {
  return slots.flatMap(({ component, from }) => {
    const capture = from[end.attribute];
    return component === end.component && capture !== undefined ? [capture] : [];
  });
}

function endsOf(
  { one, other }: Fit,
  slot: Slot,
  against: Slot,
): { readonly mine: Fit['one']; readonly theirs: Fit['one']; readonly isTurned: boolean } | null {
  if (one.component === slot.component && other.component === against.component) {
    return { mine: one, theirs: other, isTurned: false };
  }
  return other.component === slot.component && one.component === against.component
    ? { mine: other, theirs: one, isTurned: true }
    : null;
}

function isFit({ rule }: Fit, one: AttributeValue, other: AttributeValue): boolean {
  return rule.type === 'same'
    ? one === other
    : rule.pairs.some(([value, partners]) => value === one && partners.includes(other));
}

function listFitting(
  catalogue: Catalogue,
  slot: Slot,
  attribute: string,
  goesWith: (value: AttributeValue) => boolean,
): readonly string[] {
  const component = componentOf(catalogue, slot);
  const values = component?.attributes.find(({ id }) => id === attribute)?.values ?? [];
  return component
    ? values.filter(goesWith).map((value) => attributeToText(component, attribute, value))
    : [];
}
