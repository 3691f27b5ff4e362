/** What the parts of a FHIR bundle share: what goes in, ids, periods, the placeholder for the patient. */
import type { LabelData } from '../../domain';

/** A settled size or choice. */
export interface SettledSize {
  readonly id: string;
  readonly label: string;
  readonly value: number | string;
  /** UCUM code of a number; null for a choice. */
  readonly ucum: string | null;
  readonly confirmedAt: number;
}

/** A label that was scanned from an implant's box. */
export interface ScannedLabel {
  readonly id: string;
  readonly label: string;
  /** The human-readable text or the element string as scanned. */
  readonly carrier: string;
  /** When it was put to use, in milliseconds since 1970-01-01 UTC. */
  readonly at: number;
  /** What the bar code says beside its text; missing where nobody read it. Dates are calendar days. */
  readonly data?: Pick<LabelData, 'product' | 'lot' | 'serial' | 'expiresOn' | 'madeOn'>;
}

/** An override that was confirmed. */
export interface GrantedOverride {
  /** The title of the hold point. */
  readonly holdPoint: string;
  readonly reason: string;
  readonly at: number;
}

/** Stands where the hospital puts its own reference. */
export const PATIENT_PLACEHOLDER = 'Patient/replace-with-local-patient';
export const SYSTEM = 'urn:cuewall';

/** An id as FHIR allows it: letters, digits, hyphen and dot, 64 characters. */
export function toId(text: string): string {
  const clean = text.replace(/[^A-Za-z0-9.-]/g, '-');
  return clean.length <= 64 ? clean : clean.slice(clean.length - 64);
}

/** A period that never ends before it begins. */
export function toPeriod(from: number, to: number): { start: string; end: string } {
  return { start: new Date(from).toISOString(), end: new Date(Math.max(from, to)).toISOString() };
}
