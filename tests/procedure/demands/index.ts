/** The demands of every built-in procedure, by its id. A procedure that joins the library joins here. */
import { CEMENTED_HIP } from './cemented-hip';
import type { Demand } from './demand';
import { REVERSE_SHOULDER } from './reverse-shoulder';
import { GLENOID } from './reverse-shoulder-glenoid';
import { WRIST_PLATE } from './wrist-plate';

export type { Demand, Need } from './demand';

export const DEMANDS: Readonly<Record<string, readonly Demand[]>> = {
  'reverse-shoulder': REVERSE_SHOULDER,
  'reverse-shoulder-glenoid': GLENOID,
  'wrist-plate': WRIST_PLATE,
  'cemented-hip': CEMENTED_HIP,
};
