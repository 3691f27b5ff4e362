/** What the glenoid part of a reverse shoulder must ask for (common practice). */
import { confirmed, finished } from './demand';
import type { Demand } from './demand';

export const GLENOID: readonly Demand[] = [
  { step: 'build-reamer', needs: confirmed('wedge') },
  { step: 'align-reamer', needs: confirmed('wedge', 'direction', 'reamer-ready') },
  { step: 'drill-post', needs: confirmed('depth') },
  { step: 'choose-post', needs: confirmed('depth') },
  { capture: 'post', needs: [{ same: 'depth' }] },
  { step: 'press-post', needs: confirmed('plate', 'post', 'depth') },
  { step: 'insert-baseplate', needs: confirmed('depth', 'pin-out', 'coupled', 'direction') },
  { step: 'load-sphere', needs: confirmed('sphere') },
  {
    step: 'place-sphere',
    needs: [...finished('clear-rim', 'load-sphere'), ...confirmed('sphere', 'fully-seated')],
  },
];
