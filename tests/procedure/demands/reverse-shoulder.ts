/** What a whole reverse shoulder replacement must ask for (common practice). */
import { confirmed, finished } from './demand';
import type { Demand } from './demand';
import { GLENOID } from './reverse-shoulder-glenoid';

export const REVERSE_SHOULDER: readonly Demand[] = [
  { step: 'place-block', needs: finished('sign-in') },
  { step: 'induce', needs: finished('sign-in') },
  { step: 'drape', needs: finished('prepare-skin') },
  {
    step: 'incise',
    needs: [
      { finished: 'time-out' },
      { agrees: 'baseline' },
      { running: 'antibiotic', unless: { skipped: 'give-antibiotic' } },
    ],
  },
  { step: 'cut-head', needs: confirmed('retroversion') },
  ...GLENOID,
  { step: 'fix-graft', needs: finished('shape-graft') },
  { step: 'place-reserve', needs: confirmed('socket-clear', 'reserve-stem', 'reserve-head') },
  { step: 'take-stem', needs: [{ confirmed: 'broach' }, { is: ['stability', 'stable'] }] },
  { step: 'take-liner', needs: confirmed('sphere', 'trial-height') },
  { step: 'insert-stem', needs: [{ confirmed: 'final-stem' }, { finished: 'remove-trial' }] },
  { step: 'place-liner', needs: confirmed('stem-seated', 'final-liner', 'final-height') },
  { step: 'reduce-joint', needs: confirmed('liner-locked') },
  { step: 'close-deep', needs: [...finished('count-closure'), { reconciled: true }] },
  { step: 'sign-out', needs: [{ agrees: 'closure' }, { agrees: 'final' }, { agrees: 'relief' }] },
  { step: 'move-patient', needs: finished('sign-out') },
  {
    step: 'clear-table',
    needs: [{ finished: 'count-final', unless: { chosen: 'pack-and-leave' } }],
  },
];
