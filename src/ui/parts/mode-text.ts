/** What marks everything that is not of a real case, on screens and in files alike. */
import type { CaseMode } from '../../domain';

export const MODE_TEXTS: Readonly<Record<Exclude<CaseMode, 'real'>, string>> = {
  rehearsal: 'Rehearsal, not a patient',
  demo: 'Demo, invented data',
};
