/** What a hip replacement with a cemented stem must ask for (common practice). */
import { confirmed, finished } from './demand';
import type { Demand } from './demand';

export const CEMENTED_HIP: readonly Demand[] = [
  { step: 'incise', needs: [{ finished: 'time-out' }, { agrees: 'first' }] },
  { step: 'open-cup', needs: confirmed('cup') },
  { step: 'place-cup', needs: [...confirmed('cup'), ...finished('open-cup')] },
  { step: 'open-liner', needs: [...confirmed('liner'), ...finished('seat-cup')] },
  { step: 'place-liner', needs: [...confirmed('liner', 'cup-seated'), ...finished('open-liner')] },
  { step: 'open-stem', needs: [{ confirmed: 'stem' }, { is: ['trial-joint', 'stable'] }] },
  { step: 'mix-cement', needs: confirmed('stem', 'stem-taper', 'canal-ready', 'told') },
  {
    step: 'fill-canal',
    needs: [...confirmed('canal-ready', 'told'), { running: 'cement' }, ...finished('load-gun')],
  },
  {
    step: 'place-stem',
    needs: [{ running: 'cement' }, ...confirmed('canal-ready', 'stem'), ...finished('fill-canal')],
  },
  { step: 'open-head', needs: confirmed('cement-hard', 'stem-taper', 'liner') },
  { step: 'place-head', needs: confirmed('head', 'head-taper', 'head-neck', 'cement-hard') },
  { step: 'ready-closing', needs: finished('reduce') },
  { step: 'close-deep', needs: [{ agrees: 'closing' }] },
  { step: 'count-last', needs: finished('close-deep') },
  { step: 'sign-out', needs: [{ agrees: 'closing' }, { agrees: 'last' }, { agrees: 'relief' }] },
];
