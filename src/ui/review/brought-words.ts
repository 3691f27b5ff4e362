/** What became of a file of another machine, in words. */
import { countToText } from '../parts/format';
import type { Brought } from '../services';
import { startToText } from './hours-text';

/** "12 cases added, 3 already known"; resource hours that count from now on besides. */
export function sayBrought({ added, known, renewed, hours }: Brought): string {
  return [
    `${countToText(added, 'case', 'cases')} added`,
    ...(renewed > 0 ? [`${renewed} brought up to date`] : []),
    `${known} already known`,
    ...(hours ? [`resource hours taken over: from ${startToText(hours)}, ${hours.hours} hours`] : []),
  ].join(', '); // prettier-ignore
}
