/**
 * Two-sided tabular CUSUM (NIST/SEMATECH handbook 6.3.2.3): the sums of what exceeds
 * a target by more than the allowance k, each started again from nought when it
 * would be negative. A sum above h is a signal. The design is always stated with it.
 */
export interface CusumDesign {
  readonly target: number;
  /** Allowance, in the unit of the values: half the change that should be found. */
  readonly k: number;
  /** Decision limit, in the unit of the values. */
  readonly h: number;
  /** Where both sums start; half of h gives a fast initial response (Lucas & Crosier 1982). */
  readonly start?: number;
  /** Start again after a signal, so that the next change can be seen. */
  readonly restarts?: boolean;
}

export interface Cusum {
  readonly high: readonly number[];
  readonly low: readonly number[];
  /** Plain sum of the deviations from the target. */
  readonly plain: readonly number[];
  readonly signals: readonly { readonly place: number; readonly side: 'high' | 'low' }[];
}

/** The sums of values in order of time. */
export function chartCusum(values: readonly number[], design: CusumDesign): Cusum {
  const { target, k, h, start = 0, restarts = false } = design;
  const high: number[] = [];
  const low: number[] = [];
  const plain: number[] = [];
  const signals: { place: number; side: 'high' | 'low' }[] = [];
  let up = start;
  let down = start;
  let total = 0;
  for (const [place, value] of values.entries()) {
    up = Math.max(0, up + value - target - k);
    down = Math.max(0, down + target - k - value);
    total += value - target;
    high.push(up);
    low.push(down);
    plain.push(total);
    if (up > h) signals.push({ place, side: 'high' });
    if (down > h) signals.push({ place, side: 'low' });
    if (restarts && (up > h || down > h)) {
      up = 0;
      down = 0;
    }
  }
  return { high, low, plain, signals };
}
