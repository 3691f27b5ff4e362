/** What became of a file of another machine, in words. */
import { countToText } from '../parts/format';
import type { Brought } from '../services';

/** "12 cases added, 3 already known". */
export function sayBrought({ added, known, renewed }: Brought): string {
  return [
    `${countToText(added, 'case', 'cases')} added`,
    ...(renewed > 0 ? [`${renewed} brought up to date`] : []),
    `${known} already known`,
  ].join(', ');
}
