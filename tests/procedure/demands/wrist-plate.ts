/** What the plate fixation of a wrist fracture must ask for (common practice). */
import { confirmed, finished } from './demand';
import type { Demand } from './demand';

export const WRIST_PLATE: readonly Demand[] = [
  { step: 'incise', needs: [{ finished: 'time-out' }, { agrees: 'first' }] },
  { step: 'open-plate', needs: confirmed('breadth') },
  {
    step: 'place-plate',
    needs: [
      ...confirmed('breadth', 'plate-opened', 'plate-side'),
      { is: ['reduction', 'held'], unless: { chosen: 'back-window' } },
    ],
  },
  { step: 'fit-sleeve', needs: confirmed('shaft-size') },
  { step: 'drill-shaft', needs: confirmed('sleeve-fitted') },
  { step: 'load-rack', needs: confirmed('shaft-length') },
  { step: 'hole-1-drill', needs: finished('load-rack') },
  { step: 'ready-closing', needs: finished('last-image') },
  { step: 'close-deep', needs: [{ confirmed: 'cuff-down' }, { agrees: 'closing' }] },
  { step: 'count-last', needs: finished('close-deep') },
  { step: 'sign-out', needs: [{ agrees: 'closing' }, { agrees: 'last' }, { agrees: 'relief' }] },
];
