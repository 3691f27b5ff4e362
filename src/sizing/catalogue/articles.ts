/**
 * The articles of a catalogue: each component in each size, and each side where sides
 * differ. An article's id is readable: `baseplate-24-small-right`.
 */
import { SIDES, unitToText } from '../../domain';
import type { Side } from '../../domain';
import type { AttributeValue, Catalogue, Component } from './format';

export interface Article {
  readonly id: string;
  readonly component: string;
  /** "Baseplate 24°, small, right". */
  readonly title: string;
  readonly values: Readonly<Record<string, AttributeValue>>;
  /** Null where both sides use the same article. */
  readonly side: Side | null;
  readonly sterilePack: boolean;
  readonly isImplant: boolean;
}

/** Every article of a component. */
export function listArticles(component: Component): readonly Article[] {
  let rows: readonly (readonly AttributeValue[])[] = [[]];
  for (const { values } of component.attributes) {
    rows = rows.flatMap((row) => values.map((value) => [...row, value]));
  }
  const sides: readonly (Side | null)[] = component.sided ? SIDES : [null];
  return rows.flatMap((row) => sides.map((side) => toArticle(component, row, side)));
}

/** The article with an id; null where the catalogue has none such. */
export function findArticle(catalogue: Catalogue, id: string): Article | null {
  for (const component of catalogue.components) {
    const found = listArticles(component).find((article) => article.id === id);
    if (found) return found;
  }
  return null;
}

/** The article that a label's product number stands for; learnt numbers come after the catalogue's own. */
export function articleOfNumber(
  catalogue: Catalogue,
  learnt: Readonly<Record<string, string>>,
  product: string,
): Article | null {
  const printed = catalogue.components
    .flatMap(({ numbers }) => Object.entries(numbers))
    .find(([, products]) => products.includes(product))?.[0];
  const id = printed ?? learnt[product];
  return id === undefined ? null : findArticle(catalogue, id);
}

/** A value with its unit: "24 mm", "16°", "small". */
export function attributeToText(
  component: Component,
  attribute: string,
  value: AttributeValue,
): string {
  const unit = component.attributes.find(({ id }) => id === attribute)?.unit ?? 'none';
  const text = unitToText(unit);
  return typeof value === 'string' ? value : `${value}${text === 'mm' ? ' mm' : text}`;
}

function toArticle(
  component: Component,
  row: readonly AttributeValue[],
  side: Side | null,
): Article {
  const values = component.attributes.map(({ id }, index) => [id, row[index] ?? ''] as const);
  const words = [
    ...values.map(([id, value]) => attributeToText(component, id, value)),
    ...(side === null ? [] : [side]),
  ];
  return {
    id: [component.id, ...row, ...(side === null ? [] : [side])].join('-'),
    component: component.id,
    title: words.length > 0 ? `${component.title} ${words.join(', ')}` : component.title,
    values: Object.fromEntries(values),
    side,
    sterilePack: component.sterilePack,
    isImplant: component.kind === 'implant',
  };
}
