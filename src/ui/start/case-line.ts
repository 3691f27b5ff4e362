/** Where a line of the list of cases leads. Pure. */
import type { CaseId } from '../../domain';
import type { CaseLine } from '../services';

/** A running case goes on at the desk; every other one can be looked back on. */
export function caseLineToLink(
  line: Pick<CaseLine, 'caseId' | 'isClosed'>,
  current: CaseId | null,
): { readonly href: string; readonly text: string } {
  return !line.isClosed && line.caseId === current
    ? { href: '#/desk', text: 'Go on' }
    : {
        href: `#/review/${encodeURIComponent(line.caseId)}`,
        text: line.isClosed ? 'Look back' : 'Look at it (not closed)',
      };
}
