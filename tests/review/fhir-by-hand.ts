/**
 * What must hold of a bundle and none of the three validators sees, looked for by hand.
 * Sources: FHIR R4, 2.4 (a choice takes one form), 2.24.0 (Period, per-1: start not after
 * end), 2.36 (references inside a transaction), and the UCUM codes of minutes,
 * millimetres and degrees (unitsofmeasure.org). Sections from memory.
 */
type Loose = Record<string, unknown>;

const CHOICES = ['performed', 'effective', 'value', 'timing', 'occurred', 'onset'];
const UCUM = 'http://unitsofmeasure.org';
const UCUM_CODES = ['min', 'mm', 'deg', 'cm', 'mL', 'g', 'mm[Hg]', '1'];

/** Findings in words; none where all is well. `placeholder` is the only reference that may lead out. */
export function findByHand(bundle: object, placeholder: string): readonly string[] {
  const resources = listResources(bundle);
  const known = new Set(resources.map((it) => `${String(it['resourceType'])}/${String(it['id'])}`));
  return [
    ...resources.flatMap(findTwoForms),
    ...listObjects(resources).flatMap((it) => [...findBackwards(it), ...findWrongUnit(it)]),
    ...listObjects(resources)
      .map((it) => it['reference'])
      .filter((to) => typeof to === 'string' && to !== placeholder && !known.has(to))
      .map((to) => `leads nowhere: ${String(to)}`),
    ...resources
      .filter(({ resourceType }) => resourceType === 'Patient' || resourceType === 'Practitioner')
      .map(({ resourceType }) => `says who somebody is: ${String(resourceType)}`),
    ...(known.size === resources.length ? [] : ['two resources of one id']),
  ];
}

/** The resources of a bundle. */
export function listResources(bundle: object): readonly Loose[] {
  const entries = (Reflect.get(bundle, 'entry') ?? []) as readonly { readonly resource: Loose }[];
  return entries.map(({ resource }) => resource);
}

function findTwoForms(resource: Loose): readonly string[] {
  return CHOICES.flatMap((choice) => {
    const forms = Object.keys(resource).filter((key) => new RegExp(`^${choice}[A-Z]`).test(key));
    return forms.length > 1 ? [`two forms: ${forms.join(', ')}`] : [];
  });
}

function findBackwards({ start, end }: Loose): readonly string[] {
  return typeof start === 'string' && typeof end === 'string' && Date.parse(end) < Date.parse(start)
    ? [`ends before it begins: ${start}, ${end}`]
    : [];
}

function findWrongUnit({ system, code }: Loose): readonly string[] {
  return system === UCUM && !UCUM_CODES.includes(String(code)) ? [`no unit: ${String(code)}`] : [];
}

/** Every object inside, at any depth. */
function listObjects(value: unknown): readonly Loose[] {
  if (Array.isArray(value)) return value.flatMap(listObjects);
  if (typeof value !== 'object' || value === null) return [];
  return [value as Loose, ...Object.values(value).flatMap(listObjects)];
}
