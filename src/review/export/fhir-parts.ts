/** The parts of a case's FHIR bundle: phases, sizes, scanned labels, overrides. */
import type { FhirResource, Provenance } from 'fhir/r4';
import type { CaseDigest, PhaseDigest } from '../digest/case-digest';
import { PATIENT_PLACEHOLDER, toId, toPeriod } from './fhir-terms';
import type { GrantedOverride, ScannedLabel, SettledSize } from './fhir-terms';

const UCUM = 'http://unitsofmeasure.org';
const subject = { reference: PATIENT_PLACEHOLDER };
/** The program itself, which wrote what people confirmed. */
const RECORDER = { who: { display: 'Cuewall, a memory aid in theatre' } };

/** What became of a phase, in FHIR's words for a procedure. */
const PHASE_STATUS = { done: 'completed', cut: 'stopped', open: 'in-progress' } as const;
const ESTIMATED =
  'Estimated: the program was restarted meanwhile, so the wall clock had to be used.';

/** A part procedure and its duration in minutes. */
export function phaseResources(
  digest: CaseDigest,
  { phase, track, title, fromMs, totalMs, ending = 'cut', isEstimated }: PhaseDigest,
  index: number,
  main: string,
): readonly FhirResource[] {
  const id = toId(`${digest.caseId}-phase-${index}`);
  const from = digest.openedAt + fromMs;
  const period = toPeriod(from, from + totalMs);
  return [
    {
      resourceType: 'Procedure',
      id,
      status: PHASE_STATUS[ending],
      subject,
      partOf: [{ reference: `Procedure/${toId(main)}` }],
      code: { text: `${title} (${track})` },
      performedPeriod: period,
    },
    {
      resourceType: 'Observation',
      id: toId(`${digest.caseId}-time-${index}`),
      status: ending === 'open' ? 'preliminary' : 'final',
      code: {
        text: `Duration of phase: ${title}`,
        coding: [{ system: 'urn:cuewall:phase', code: phase }],
      },
      subject,
      partOf: [{ reference: `Procedure/${id}` }],
      effectivePeriod: period,
      valueQuantity: {
        value: Math.round(totalMs / 600) / 100,
        unit: 'min',
        system: UCUM,
        code: 'min',
      },
      ...(isEstimated ? { note: [{ text: ESTIMATED }] } : {}),
    },
  ];
}

/** A settled size, and who says so: it was read back and confirmed. */
export function sizeResources(
  digest: CaseDigest,
  { id: sizeId, label, value, ucum, confirmedAt }: SettledSize,
  main: string,
): readonly FhirResource[] {
  const id = toId(`${digest.caseId}-size-${sizeId}`);
  const at = new Date(confirmedAt).toISOString();
  const valueOf =
    typeof value === 'number' && ucum !== null
      ? { valueQuantity: { value, unit: ucum, system: UCUM, code: ucum } }
      : { valueString: String(value) };
  return [
    {
      resourceType: 'Observation',
      id,
      status: 'final',
      code: { text: label },
      subject,
      partOf: [{ reference: `Procedure/${toId(main)}` }],
      effectiveDateTime: at,
      ...valueOf,
    },
    {
      resourceType: 'Provenance',
      id: toId(`${digest.caseId}-confirmed-${sizeId}`),
      target: [{ reference: `Observation/${id}` }],
      recorded: at,
      activity: { text: 'Read back and confirmed' },
      agent: [RECORDER],
    },
  ];
}

/** A scanned label: the device and that it was used. */
export function deviceResources(
  digest: CaseDigest,
  { id: labelId, label, carrier, at, data }: ScannedLabel,
  main: string,
): readonly FhirResource[] {
  const id = toId(`${digest.caseId}-device-${labelId}`);
  return [
    {
      resourceType: 'Device',
      id,
      status: 'active',
      udiCarrier: [
        {
          ...(data?.product ? { deviceIdentifier: data.product } : {}),
          carrierHRF: carrier,
          entryType: 'barcode',
        },
      ],
      ...(data?.lot ? { lotNumber: data.lot } : {}),
      ...(data?.serial ? { serialNumber: data.serial } : {}),
      ...(data?.expiresOn ? { expirationDate: data.expiresOn } : {}),
      ...(data?.madeOn ? { manufactureDate: data.madeOn } : {}),
      deviceName: [{ name: label, type: 'user-friendly-name' }],
    },
    {
      resourceType: 'DeviceUseStatement',
      id: toId(`${digest.caseId}-use-${labelId}`),
      status: 'completed',
      subject,
      device: { reference: `Device/${id}` },
      timingDateTime: new Date(at).toISOString(),
      derivedFrom: [{ reference: `Procedure/${toId(main)}` }],
    },
  ];
}

/** An override, with its reason, for ever. */
export function overrideProvenance(
  digest: CaseDigest,
  { holdPoint, reason, at }: GrantedOverride,
  index: number,
  main: string,
): Provenance {
  return {
    resourceType: 'Provenance',
    id: toId(`${digest.caseId}-override-${index}`),
    target: [{ reference: `Procedure/${toId(main)}` }],
    recorded: new Date(at).toISOString(),
    activity: { text: `Hold point passed without its conditions: ${holdPoint}` },
    reason: [{ text: reason }],
    agent: [RECORDER],
  };
}
