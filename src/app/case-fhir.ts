/** A case as the text of a FHIR bundle: its digest, its settled sizes and what was scanned. */
import type { Entry, Outline } from '../domain';
import { caseToFhir, digestCase, foldSizes } from '../review';
import type { ScannedLabel, SettledSize } from '../review';
import { listCaptures } from '../session';

/** Codes of the Unified Code for Units of Measure for the units that a capture can have. */
const UCUM: Readonly<Record<string, string>> = {
  mm: 'mm', deg: 'deg', cm: 'cm', ml: 'mL', g: 'g', min: 'min', mmHg: 'mm[Hg]', none: '1',
}; // prettier-ignore

/** The bundle; null where the opening entry is missing. */
export function caseToFhirText(entries: readonly Entry[], outline: Outline): string | null {
  const digest = digestCase(entries, outline);
  const [opening] = entries;
  if (!digest || opening?.type !== 'case.opened') return null;
  const captures = new Map(
    listCaptures(opening.data.procedure).map((capture) => [capture.id, capture]),
  );
  const sizes: SettledSize[] = [];
  const labels: ScannedLabel[] = [];
  for (const { capture: id, value, confirmedAt } of foldSizes(entries)) {
    const capture = captures.get(id);
    if (!capture || value === null || !confirmedAt) continue;
    const { label, unit, isLabel } = capture;
    if (isLabel) labels.push({ id, label, carrier: String(value), at: confirmedAt.at });
    else
      sizes.push({
        id,
        label,
        value,
        ucum: unit === null ? null : (UCUM[unit] ?? null),
        confirmedAt: confirmedAt.at,
      });
  }
  return `${JSON.stringify(caseToFhir(digest, sizes, labels), null, 1)}\n`;
}
