/** What the parts of a FHIR bundle share: what goes in, ids, periods, the placeholder for the patient. */

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
