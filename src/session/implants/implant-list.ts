/**
 * The implant list of a case as a file: one row a pack, with everything its label
 * says. Every row carries the mode, so that no rehearsal is taken for a case.
 */
import { rowsToCsv } from '../../domain';
import type { CaseView } from '../view/view';

/** Columns of the CSV file, in order. */
export const IMPLANT_COLUMNS = [
  'mode', 'case', 'side', 'state', 'article', 'place', 'product', 'lot', 'serial', 'expires_on', 'made_on',
  'quantity', 'scheme', 'label', 'findings', 'reason', 'scans',
] as const; // prettier-ignore

type ListedView = Pick<CaseView, 'mode' | 'caseId' | 'side' | 'implants'>;

/** The list as CSV. */
export function implantListToCsv(view: ListedView): string {
  return rowsToCsv([IMPLANT_COLUMNS, ...rowsOf(view).map((row) => IMPLANT_COLUMNS.map((column) => row[column]))]); // prettier-ignore
}

/** The list as JSON, with what does not agree beside it. */
export function implantListToJson(view: ListedView): string {
  const { notScanned, notConfirmed, unsettled } = view.implants;
  const open = { notScanned, notConfirmed, unsettled };
  return JSON.stringify({ mode: view.mode, case: view.caseId, packs: rowsOf(view), open }, null, 1);
}

function rowsOf({ mode, caseId, side, implants }: ListedView) {
  return implants.packs.map((pack): Record<(typeof IMPLANT_COLUMNS)[number], string | number> => {
    const { label } = pack;
    return {
      mode,
      case: caseId,
      side,
      state: pack.state,
      article: pack.title,
      place: pack.place,
      product: label.product ?? '',
      lot: label.lot ?? '',
      serial: label.serial ?? '',
      expires_on: label.expiresOn ?? '',
      made_on: label.madeOn ?? '',
      quantity: label.quantity ?? '',
      scheme: label.scheme,
      label: label.readable,
      findings: pack.findings.map(({ text }) => text.happened).join('; '),
      reason: pack.reason,
      scans: pack.scans,
    };
  });
}
