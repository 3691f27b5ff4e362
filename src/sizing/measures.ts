/**
 * Which inclination was measured. Two published definitions differ by about ten
 * degrees on the same shoulder (10 ± 5, Boileau et al. 2019, J Shoulder Elbow Surg
 * 28:1281), so an inclination without its definition is not a number to compute with,
 * and a target stated by the one can't be compared with a face measured by the other.
 */
import type { InclinationMeasure } from '../domain';

/** How a measure is named and drawn. */
export const INCLINATION_MEASURE_TEXT: Readonly<
  Record<InclinationMeasure, { readonly short: string; readonly long: string }>
> = {
  'whole-face': {
    short: 'whole face (β)',
    long: 'Line from the upper to the lower rim of the socket, against the floor of the supraspinatus fossa (β angle)',
  },
  'lower-face': {
    short: 'lower face (RSA)',
    long: 'Line along the lower part of the socket, against a perpendicular to the floor of the supraspinatus fossa (RSA angle)',
  },
};
