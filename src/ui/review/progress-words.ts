/** How far a long work of the look back is, and how far it was when it was stopped, in words. Pure. */
import { countToText } from '../parts/format';
import type { PartsAside, WorkProgress } from '../services';

/** "Reading 7 of 30 cases". */
export function sayProgress({ kind, done, total }: WorkProgress): string {
  switch (kind) {
    case 'reading':
      return total === 0 ? 'Looking for new cases in the record…' : `Reading ${done} of ${total} cases`; // prettier-ignore
    case 'adding':
      return `Adding ${done} of ${total} invented cases`;
    case 'bringing':
      return total === 0 ? 'Opening the file…' : `Taking in the file, ${Math.round((100 * done) / total)} %`; // prettier-ignore
  }
}

/** "Stopped at 7 of 30 cases": what is there stays, of a file there is nothing. */
export function sayStopped({ kind, done, total }: WorkProgress): string {
  switch (kind) {
    case 'reading':
      return total === 0 ? 'Stopped before the new cases were counted' : `Stopped at ${done} of ${total} cases`; // prettier-ignore
    case 'adding':
      return `Stopped at ${done} of ${total} invented cases`;
    case 'bringing':
      return 'Stopped, nothing of the file was taken in';
  }
}

/** "2 damaged parts (253 cases) of what is kept here are set aside". */
export function sayAside({ parts, cases }: PartsAside): string {
  const many = cases === null ? '' : ` (${countToText(cases, 'case', 'cases')})`;
  return `${countToText(parts, 'damaged part', 'damaged parts')}${many} of what is kept here ${parts === 1 ? 'is' : 'are'} set aside`;
}
