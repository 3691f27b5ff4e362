/** A case as the text of a FHIR bundle: its digest, settled sizes, what was implanted, overrides. */
import type { Entry, Outline } from '../../domain';
import { caseToFhir, digestCase, foldSizes, listOverrides } from '../../review';
import type { GrantedOverride, ScannedLabel, SettledSize } from '../../review';
import { listCaptures, listSettledCaptures } from '../../session';
import { addToImplantLog, emptyImplantLog, loadCatalogue, packTitle } from '../../sizing';

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
  const settled = listSettledCaptures(entries);
  const sizes: SettledSize[] = [];
  const labels: ScannedLabel[] = [];
  for (const { capture: id, value, confirmedAt } of foldSizes(entries)) {
    const capture = captures.get(id);
    if (!capture || value === null || !confirmedAt || !settled.includes(id)) continue;
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
  labels.push(...listImplanted(entries));
  const bundle = caseToFhir(digest, sizes, labels, listGranted(entries, outline));
  return `${JSON.stringify(bundle, null, 1)}\n`;
}

/** Packs that stayed in the patient; what was opened and wasted was used on nobody. */
function listImplanted(entries: readonly Entry[]): readonly ScannedLabel[] {
  const log = entries.reduce(addToImplantLog, emptyImplantLog());
  const loaded = log.catalogue === null ? null : loadCatalogue(log.catalogue);
  const catalogue = loaded?.ok ? loaded.value : null;
  return log.packs.flatMap((pack): ScannedLabel[] => {
    const put = entries.findLast(
      (entry) => entry.type === 'pack.moved' && entry.data.pack === pack.id,
    );
    if (pack.state !== 'implanted' || !put) return [];
    const { label } = pack;
    const title = packTitle(catalogue, pack);
    return [{ id: pack.id, label: title, carrier: label.readable, at: put.at, data: label }];
  });
}

function listGranted(entries: readonly Entry[], outline: Outline): readonly GrantedOverride[] {
  return listOverrides(entries).flatMap(({ holdPoint, reason, outcome, answeredAt }) => {
    const title = outline.holdPoints.find(({ id }) => id === holdPoint)?.title ?? holdPoint;
    return outcome === 'granted' && answeredAt !== null
      ? [{ holdPoint: title, reason, at: answeredAt.at }]
      : [];
  });
}
