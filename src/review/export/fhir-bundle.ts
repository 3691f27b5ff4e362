/**
 * A case as an HL7 FHIR R4 (4.0.1) transaction Bundle: the Procedure, a part Procedure
 * and an Observation (minutes, UCUM) for each phase, sizes as Observations, scanned
 * labels as Device and DeviceUseStatement, and Provenance for confirmed read-backs and
 * overrides. The patient is a placeholder that the hospital replaces; nothing here
 * says who anybody is.
 */
import type { Bundle, BundleEntry, FhirResource } from 'fhir/r4';
import type { CaseDigest } from '../digest/case-digest';
import { PATIENT_PLACEHOLDER, SYSTEM, toId, toPeriod } from './fhir-terms';
import type { GrantedOverride, ScannedLabel, SettledSize } from './fhir-terms';
import { deviceResources, overrideProvenance, phaseResources, sizeResources } from './fhir-parts';

/** Makes the bundle. Ids are derived from the case, so that sending it twice makes nothing twice. */
export function caseToFhir(
  digest: CaseDigest,
  sizes: readonly SettledSize[],
  labels: readonly ScannedLabel[],
  overrides: readonly GrantedOverride[],
): Bundle {
  const main = `${digest.caseId}-procedure`;
  const resources: FhirResource[] = [
    {
      resourceType: 'Procedure',
      id: toId(main),
      identifier: [{ system: `${SYSTEM}:case`, value: digest.caseId }],
      status:
        digest.closedAt === null
          ? 'in-progress'
          : digest.outcome === 'abandoned'
            ? 'stopped'
            : 'completed',
      subject: { reference: PATIENT_PLACEHOLDER },
      code: { text: digest.procedure },
      bodySite: [{ text: digest.side }],
      performedPeriod: toPeriod(digest.openedAt, digest.openedAt + digest.totalMs),
      note: [
        { text: `${MODE_NOTES[digest.mode]} Recorded by a memory aid, not by a medical device.` },
      ],
      ...incision(digest),
    },
    ...digest.phases.flatMap((phase, index) => phaseResources(digest, phase, index, main)),
    ...sizes.flatMap((size) => sizeResources(digest, size, main)),
    ...labels.flatMap((label) => deviceResources(digest, label, main)),
    ...overrides.map((override, index) => overrideProvenance(digest, override, index, main)),
  ];
  return {
    resourceType: 'Bundle',
    meta: modeTag(digest),
    type: 'transaction',
    timestamp: new Date(digest.closedAt ?? digest.openedAt).toISOString(),
    entry: resources.map((resource) => toEntry({ ...resource, meta: modeTag(digest) })),
  };
}

const MODE_NOTES = {
  real: '',
  rehearsal: 'REHEARSAL: not a real case.',
  demo: 'DEMO: invented data, not a real case.',
} as const;

/** Says of every resource whether it is of a real case, a rehearsal or a demo: sent on, each stands alone. */
function modeTag({ mode }: CaseDigest): { tag: { system: string; code: string }[] } {
  return { tag: [{ system: `${SYSTEM}:mode`, code: mode }] };
}

/** The time of incision has an extension of its own in R4. */
function incision({ named }: CaseDigest): { extension?: { url: string; valueDateTime: string }[] } {
  return named.PST === undefined
    ? {}
    : {
        extension: [
          {
            url: 'http://hl7.org/fhir/StructureDefinition/procedure-incisionDateTime',
            valueDateTime: new Date(named.PST).toISOString(),
          },
        ],
      };
}

/** Put under a known id: sent twice, it is there once. */
function toEntry(resource: FhirResource): BundleEntry {
  const url = `${resource.resourceType}/${resource.id ?? ''}`;
  return {
    fullUrl: `${SYSTEM}:${url.replace('/', ':')}`,
    resource,
    request: { method: 'PUT', url },
  };
}
