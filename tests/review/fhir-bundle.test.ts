/**
 * The FHIR R4 bundle through three independent validators, with what none of them sees
 * asserted by hand: two forms of one choice, an end before its start, references
 * that lead nowhere, UCUM codes, a patient.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { caseToFhir } from '../../src/review';
import type { CaseDigest } from '../../src/review';
import { makeValidators } from './fhir-validators';
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
  overrides: [{ holdPoint: 'baseplate' as never, reason: 'Checked by hand' }],
  named: { PIR: 1_728_000_000_000, PST: 1_728_000_600_000 },
};
const at = digest.openedAt + 60_000;
const bundle = caseToFhir(
  digest,
  [
    { id: 'depth', label: 'Depth', value: 24, ucum: 'mm', confirmedAt: at },
    { id: 'wedge', label: 'Wedge', value: 16, ucum: 'deg', confirmedAt: at },
    { id: 'plate', label: 'Plate', value: 'Small', ucum: null, confirmedAt: at },
  ],
  [{ id: 'sphere', label: 'Glenosphere', carrier: '(01)51022222233336(17)150707(10)A213B1', at }],
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

  // Each must be rejected by at least one of the three.
  const broken: readonly (readonly [string, (of: typeof bundle) => void])[] = [
    ['a status that does not exist', (of) => (first(of, 'Procedure')['status'] = 'over')],
    ['no status', (of) => delete first(of, 'Procedure')['status']],
    ['no subject', (of) => delete first(of, 'Procedure')['subject']],
    [
      'a field of another version',
      (of) => (first(of, 'Procedure')['occurrencePeriod'] = { start: '2026-03-04' }),
    ],
    ['an observation without code', (of) => delete first(of, 'Observation')['code']],
    [
      'a duration where R4 has none',
      (of) => (first(of, 'Observation')['valueDuration'] = { value: 1 }),
    ],
    ['a quantity as text', (of) => (first(of, 'Observation')['valueQuantity'] = { value: 'six' })],
    [
      'a time that is none',
      (of) => (first(of, 'Procedure')['performedPeriod'] = { start: 'yesterday' }),
    ],
    ['a provenance without agent', (of) => delete first(of, 'Provenance')['agent']],
    ['a use without device', (of) => delete first(of, 'DeviceUseStatement')['device']],
    ['a bundle of no kind', (of) => (of.type = 'parcel' as never)],
    [
      'a request without method',
      (of) => delete (of.entry?.[0]?.request as unknown as Loose)['method'],
    ],
  ];
  test.each(broken)('[REV49] %s is rejected', (_, breakIt) => {
    const bad = copy();
    breakIt(bad);
    const findings = Object.values(validators).flatMap((validate) => validate(bad));
    expect(findings.length).toBeGreaterThan(0);
  });
});

describe('what no validator sees', () => {
  const all = (bundle.entry ?? []).map(({ resource }) => resource as unknown as Loose);

  test('[REV50] one form of each choice, and no period ends before it begins', () => {
    for (const resource of all) {
      for (const choice of ['performed', 'effective', 'value', 'timing', 'occurred']) {
        const forms = Object.keys(resource).filter((key) =>
          new RegExp(`^${choice}[A-Z]`).test(key),
        );
        expect(forms.length, JSON.stringify(forms)).toBeLessThanOrEqual(1);
      }
      for (const key of ['performedPeriod', 'effectivePeriod']) {
        const period = resource[key] as { start: string; end: string } | undefined;
        if (period) expect(period.end >= period.start).toBe(true);
      }
    }
    const backwards = caseToFhir({ ...digest, totalMs: -5000 }, [], []);
    const { start, end } = first(backwards, 'Procedure')['performedPeriod'] as {
      start: string;
      end: string;
    };
    expect(end >= start).toBe(true);
  });

  test('[REV50] every reference leads to a resource of the bundle, but for the patient’s placeholder', () => {
    const known = new Set(
      all.map((resource) => `${String(resource['resourceType'])}/${String(resource['id'])}`),
    );
    expect(known.size).toBe(all.length);
    const references = [...JSON.stringify(all).matchAll(/"reference":"([^"]+)"/g)].map(
      ([, to]) => to,
    );
    expect(references.length).toBeGreaterThan(10);
    for (const to of references) {
      if (to !== 'Patient/replace-with-local-patient') expect(known.has(to ?? ''), to).toBe(true);
    }
    expect(all.some(({ resourceType }) => resourceType === 'Patient')).toBe(false);
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
