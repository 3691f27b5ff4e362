/** Series printed in handbooks, with their sources. */

/** Flow rate of ten batches: NIST/SEMATECH e-Handbook 6.3.2.2. */
export const FLOW_RATE = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

/** Chemical concentration: Montgomery & Runger, Applied Statistics and Probability for Engineers, 3rd ed., table 16-3. */
export const CONCENTRATION = [
  102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1, 101.3, 98.7, 101.1, 98.4, 97.0,
  96.7, 100.3, 101.4, 97.2, 101.0,
];

/** "Jets": SAS/QC documentation, IRCHART example. */
export const JETS = [
  78.4, 80.1, 84.4, 79.1, 80.4, 83.5, 73.8, 83.5, 75.0, 76.8, 70.5, 80.3, 82.4, 79.4, 86.4, 90.5,
  77.7, 82.5, 79.9, 83.2,
];

/** Means of a CUSUM example: NIST/SEMATECH e-Handbook 6.3.2.3. */
export const CUSUM_MEANS = [
  324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625,
  325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
];

/** Wafer thickness: NIST/SEMATECH e-Handbook 7.2.6.2. */
export const THICKNESS = [
  95.1772, 95.1567, 95.1937, 95.1959, 95.1442, 95.061, 95.1591, 95.1195, 95.1065, 95.0925, 95.199,
  95.1682,
];
