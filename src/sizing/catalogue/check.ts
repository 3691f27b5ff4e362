/**
 * Reads a catalogue file: first its shape, then its meaning across the file. Each
 * finding says where, what was expected and what was found.
 */
import * as v from 'valibot';
import { err, ok } from '../../domain';
import type { Result } from '../../domain';
import { listArticles } from './articles';
import { CatalogueSchema } from './format';
import type { AttributeValue, Catalogue, Fit } from './format';

export interface CatalogueFinding {
  /** A path into the file: `fits.0.one.attribute`. */
  readonly path: string;
  readonly expected: string;
  readonly received: string;
}

/** Checks unknown data; the value is a catalogue that can be used. */
export function checkCatalogue(data: unknown): Result<Catalogue, readonly CatalogueFinding[]> {
  const parsed = v.safeParse(CatalogueSchema, data);
  if (!parsed.success) {
    return err(
      parsed.issues.map((issue) => ({
        path: v.getDotPath(issue) ?? '(file)',
        expected: issue.expected ?? issue.message,
        received: issue.received,
      })),
    );
  }
  const catalogue = parsed.output;
  const findings = [
    ...findDoubles('components', catalogue.components.map(({ id }) => id)),
    ...findDoubles('slots', catalogue.slots.map(({ id }) => id)),
    ...findDoubles('fits', catalogue.fits.map(({ id }) => id)),
    ...findDoubles('components.numbers', catalogue.components.flatMap(({ numbers }) => Object.values(numbers).flat())),
    ...catalogue.components.flatMap((_, index) => checkComponent(catalogue, index)),
    ...catalogue.slots.flatMap((_, index) => checkSlot(catalogue, index)),
    ...catalogue.fits.flatMap((fit, index) => checkFit(catalogue, fit, index)),
  ]; // prettier-ignore
  return findings.length > 0 ? err(findings) : ok(catalogue);
}

function findDoubles(path: string, ids: readonly string[]): readonly CatalogueFinding[] {
  const doubles = ids.filter((id, index) => ids.indexOf(id) !== index);
  return doubles.map((id) => ({ path, expected: 'each id once', received: `"${id}"` }));
}

function checkComponent({ components }: Catalogue, index: number): readonly CatalogueFinding[] {
  const component = components[index];
  if (!component) return [];
  const path = `components.${index}`;
  const articles = listArticles(component).map(({ id }) => id);
  const attribute = component.attributes.find(({ id }) => id === component.width?.by);
  const widths = Object.keys(component.width?.mm ?? {});
  return [
    ...findDoubles(`${path}.attributes`, component.attributes.map(({ id }) => id)),
    ...Object.keys(component.numbers).flatMap((id) =>
      expectOneOf(`${path}.numbers`, id, articles),
    ),
    ...(component.width ? expectOneOf(`${path}.width.by`, component.width.by, component.attributes.map(({ id }) => id)) : []),
    ...widths.flatMap((value) => expectOneOf(`${path}.width.mm`, value, attribute?.values.map(String) ?? [])),
  ]; // prettier-ignore
}

function checkSlot({ components, slots }: Catalogue, index: number): readonly CatalogueFinding[] {
  const slot = slots[index];
  if (!slot) return [];
  const component = components.find(({ id }) => id === slot.component);
  if (!component) return expectOneOf(`slots.${index}.component`, slot.component, components.map(({ id }) => id)); // prettier-ignore
  return Object.keys(slot.from).flatMap((attribute) =>
    expectOneOf(`slots.${index}.from`, attribute, component.attributes.map(({ id }) => id)),
  ); // prettier-ignore
}

function checkFit({ components }: Catalogue, fit: Fit, index: number): readonly CatalogueFinding[] {
  const ends = (['one', 'other'] as const).flatMap((name) => {
    const end = fit[name];
    const component = components.find(({ id }) => id === end.component);
    return component
      ? expectOneOf(`fits.${index}.${name}.attribute`, end.attribute, component.attributes.map(({ id }) => id))
      : expectOneOf(`fits.${index}.${name}.component`, end.component, components.map(({ id }) => id));
  }); // prettier-ignore
  if (ends.length > 0 || fit.rule.type === 'same') return ends;
  const [one, other] = [valuesOf(components, fit.one), valuesOf(components, fit.other)];
  return fit.rule.pairs.flatMap(([value, partners], place) => [
    ...expectOneOf(`fits.${index}.rule.pairs.${place}`, String(value), one.map(String)),
    ...partners.flatMap((partner) =>
      expectOneOf(`fits.${index}.rule.pairs.${place}`, String(partner), other.map(String)),
    ),
  ]);
}

function valuesOf(components: Catalogue['components'], end: Fit['one']): readonly AttributeValue[] {
  const component = components.find(({ id }) => id === end.component);
  return component?.attributes.find(({ id }) => id === end.attribute)?.values ?? [];
}

function expectOneOf(
  path: string,
  received: string,
  choices: readonly string[],
): readonly CatalogueFinding[] {
  return choices.includes(received)
    ? []
    : [{ path, expected: `one of ${choices.join(', ')}`, received: `"${received}"` }];
}
