/**
 * The FHIR R4 bundle through three independent validators, with what none of them sees
 * asserted by hand: two forms of one choice, an end before its start, references
 * that lead nowhere, UCUM codes, a patient.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { caseToFhir, digestCase } from '../../src/review';
import type { CaseDigest } from '../../src/review';
import { findByHand, listResources } from './fhir-by-hand';
import { makeValidators } from './fhir-validators';
import { HandCase, OUTLINE } from './hand-case';
import { digestOf } from './synthetic-team';

const digest: CaseDigest = {
  ...digestOf(
    [
      { id: 'reaming', passesMin: [6.5, 2] },
      { id: 'screws', passesMin: [9] },
    ],
    20_000,
  ),
  caseId: '20260304-1325-ab_c with spaces' as never,
  named: { PIR: 1_728_000_000_000, PST: 1_728_000_600_000 },
};
/** The only reference that may lead out of the bundle. */
const PLACEHOLDER = 'Patient/replace-with-local-patient';
const at = digest.openedAt + 60_000;
const bundle = caseToFhir(
  digest,
  [
    { id: 'depth', label: 'Depth', value: 24, ucum: 'mm', confirmedAt: at },
    { id: 'wedge', label: 'Wedge', value: 16, ucum: 'deg', confirmedAt: at },
    { id: 'plate', label: 'Plate', value: 'Small', ucum: null, confirmedAt: at },
  ],
  [{ id: 'sphere', label: 'Glenosphere', carrier: '(01)51022222233336(17)150707(10)A213B1', at }],
  [{ holdPoint: 'Baseplate', reason: 'Checked by hand', at: at + 1000 }],
);
const copy = () => JSON.parse(JSON.stringify(bundle)) as typeof bundle;
type Loose = Record<string, unknown>;
const resourcesOf = (of: typeof bundle, type: string) =>
  (of.entry ?? []).flatMap(({ resource }) =>
    resource?.resourceType === type ? [resource as unknown as Loose] : [],
  );
const first = (of: typeof bundle, type: string): Loose => {
  const [found] = resourcesOf(of, type);
  if (!found) throw new Error(`The bundle has a ${type}`);
  return found;
};

/** The names of the validators that find something wrong. */
const rejectedBy = (of: object): readonly string[] =>
  Object.entries(validators).flatMap(([name, validate]) => (validate(of).length > 0 ? [name] : []));

let validators: ReturnType<typeof makeValidators>;
beforeAll(() => {
  validators = makeValidators();
}, 120_000);

describe('the bundle', () => {
  test('[REV49] three validators find nothing wrong', { timeout: 60_000 }, () => {
    for (const [name, validate] of Object.entries(validators)) {
      expect(validate(copy()), name).toEqual([]);
    }
  });

  const SCHEMA = 'json schema';
  const STRUCTURE = 'structure definitions';
  // Each must be rejected by at least one of the three; beside it, which of them miss it.
  const broken: readonly (readonly [string, readonly string[], (of: typeof bundle) => void])[] = [
    ['a status that does not exist', [SCHEMA, STRUCTURE], (of) => (first(of, 'Procedure')['status'] = 'over')],
    ['no status', [SCHEMA], (of) => delete first(of, 'Procedure')['status']],
    ['no subject', [], (of) => delete first(of, 'Procedure')['subject']],
    ['a field of another version', [], (of) => (first(of, 'Procedure')['occurrencePeriod'] = { start: '2026-03-04' })],
    ['an observation without code', [], (of) => delete first(of, 'Observation')['code']],
    ['a duration where R4 has none', [STRUCTURE], (of) => (first(of, 'Observation')['valueDuration'] = { value: 1 })],
    ['a quantity as text', [], (of) => (first(of, 'Observation')['valueQuantity'] = { value: 'six' })],
    ['a time that is none', [], (of) => (first(of, 'Procedure')['performedPeriod'] = { start: 'yesterday' })],
    ['a provenance without agent', [], (of) => delete first(of, 'Provenance')['agent']],
    ['a use without device', [], (of) => delete first(of, 'DeviceUseStatement')['device']],
    ['a bundle of no kind', [], (of) => (of.type = 'parcel' as never)],
    ['a request without method', [SCHEMA], (of) => delete (of.entry?.[0]?.request as unknown as Loose)['method']],
    ['one resource twice', [SCHEMA, 'conformance'], (of) => of.entry?.push(...copy().entry?.slice(0, 1) ?? [])],
  ]; // prettier-ignore
  test.each(broken)('[REV49] %s is rejected', (_, missedBy, breakIt) => {
    const bad = copy();
    breakIt(bad);
    const rejected = rejectedBy(bad);
    expect(rejected.length).toBeGreaterThan(0);
    expect(Object.keys(validators).filter((name) => !rejected.includes(name))).toEqual(missedBy);
  });
});

describe('what no validator sees', () => {
  const all = listResources(bundle);

  // Each must be found by hand, because all three validators take it.
  const unseen: readonly (readonly [string, string, (of: typeof bundle) => void])[] = [
    [
      'two forms of one choice',
      'two forms',
      (of) => (first(of, 'Procedure')['performedDateTime'] = '2026-03-04'),
    ],
    [
      'a period that ends before it begins',
      'ends before',
      (of) =>
        (first(of, 'Procedure')['performedPeriod'] = {
          start: '2026-03-04T10:00:00Z',
          end: '2026-03-04T09:00:00Z',
        }),
    ],
    [
      'a reference that leads nowhere',
      'leads nowhere',
      (of) => (first(of, 'DeviceUseStatement')['device'] = { reference: 'Device/other' }),
    ],
    [
      'a unit that is none of UCUM’s',
      'no unit',
      (of) => ((first(of, 'Observation')['valueQuantity'] as Loose)['code'] = 'minutes'),
    ],
    [
      'a patient',
      'who somebody is',
      (of) =>
        of.entry?.push({
          fullUrl: 'urn:cuewall:Patient:one',
          resource: { resourceType: 'Patient', id: 'one' },
          request: { method: 'PUT', url: 'Patient/one' },
        }),
    ],
  ];
  test.each(unseen)('[REV50] %s is found by hand', (_, finding, breakIt) => {
    const bad = copy();
    breakIt(bad);
    expect(rejectedBy(bad)).toEqual([]);
    expect(findByHand(bad, PLACEHOLDER).join('; ')).toContain(finding);
  });

  test('[REV50] none of that is in the bundle', () => {
    expect(findByHand(bundle, PLACEHOLDER)).toEqual([]);
    expect([...JSON.stringify(all).matchAll(/"reference":/g)].length).toBeGreaterThan(10);
    const backwards = caseToFhir({ ...digest, totalMs: -5000 }, [], [], []);
    expect(findByHand(backwards, PLACEHOLDER)).toEqual([]);
  });

  test('[REV75] every resource says of what kind of case it is, so does the bundle', () => {
    const tags = [bundle as unknown as Loose, ...all].map((it) => (it['meta'] as Loose)['tag']);
    expect(tags).toHaveLength(1 + (bundle.entry?.length ?? 0));
    expect(new Set(tags.map((tag) => JSON.stringify(tag)))).toEqual(
      new Set([JSON.stringify([{ system: 'urn:cuewall:mode', code: 'demo' }])]),
    );
  });

  // Status codes: FHIR R4, value sets event-status and observation-status, from memory.
  test('[REV76] a phase that was done is completed, also across a restart, which its duration says', () => {
    const hand = new HandCase().begin('cut').pass(4).restart().pass(2).finish('cut');
    hand.begin('clear').pass(1).finish('clear').begin('shape').pass(5);
    const statuses = () => {
      const made = digestCase(hand.entries, OUTLINE);
      if (!made) throw new Error('The case has an opening');
      const parts = caseToFhir(made, [], [], []);
      return resourcesOf(parts, 'Procedure')
        .slice(1)
        .map(({ status }, index) => {
          const time = resourcesOf(parts, 'Observation')[index];
          return [status, time?.['status'], JSON.stringify(time?.['note'] ?? [])];
        });
    };
    const estimated = expect.stringContaining('Estimated') as string;
    expect(statuses()).toEqual([
      ['completed', 'final', estimated],
      ['in-progress', 'preliminary', '[]'],
    ]);
    hand.close();
    expect(statuses()).toEqual([
      ['completed', 'final', estimated],
      ['stopped', 'final', '[]'],
    ]);
  });

  test('[REV50] durations are UCUM minutes, sizes UCUM mm and deg; phases are parts of the procedure', () => {
    const quantities = resourcesOf(bundle, 'Observation').flatMap(({ valueQuantity }) =>
      valueQuantity ? [valueQuantity as Loose] : [],
    );
    expect(quantities.map(({ value, code, system }) => [value, code, system])).toEqual([
      [8.5, 'min', 'http://unitsofmeasure.org'],
      [9, 'min', 'http://unitsofmeasure.org'],
      [24, 'mm', 'http://unitsofmeasure.org'],
      [16, 'deg', 'http://unitsofmeasure.org'],
    ]);
    const [main, ...parts] = resourcesOf(bundle, 'Procedure');
    expect(parts).toHaveLength(2);
    for (const { partOf } of parts)
      expect(partOf).toEqual([{ reference: `Procedure/${String(main?.['id'])}` }]);
  });

  test('[REV50] the device has its carrier, the override its reason, the incision its extension, the demo its note', () => {
    expect(first(bundle, 'Device')['udiCarrier']).toEqual([
      { carrierHRF: '(01)51022222233336(17)150707(10)A213B1', entryType: 'barcode' },
    ]);
    expect(JSON.stringify(resourcesOf(bundle, 'Provenance'))).toContain('Checked by hand');
    expect(first(bundle, 'Procedure')['extension']).toEqual([
      {
        url: 'http://hl7.org/fhir/StructureDefinition/procedure-incisionDateTime',
        valueDateTime: new Date(1_728_000_600_000).toISOString(),
      },
    ]);
    expect(JSON.stringify(first(bundle, 'Procedure')['note'])).toContain('DEMO');
  });

  test('[REV50] the same case gives the same ids, which FHIR allows', () => {
    for (const { id } of all) expect(String(id)).toMatch(/^[A-Za-z0-9.-]{1,64}$/);
    expect(
      bundle.entry?.every(
        ({ request, resource }) => request?.url === `${resource?.resourceType}/${resource?.id}`,
      ),
    ).toBe(true);
  });
});
