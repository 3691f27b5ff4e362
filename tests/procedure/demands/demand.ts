/**
 * What a procedure must ask for, written by hand from the trade (common practice) and
 * never read from the procedure's own hold points: so that a hold point or a condition
 * that is taken out of the data, or turned round, breaks a demand.
 *
 * One table for each built-in procedure, in a file of its name, joined in index.ts:
 * "step X needs Y". `when` is the hand-written exception, not asked for where it holds.
 */

/** One thing that must be true. */
export type Need = (
  | { readonly confirmed: string }
  | { readonly is: readonly [capture: string, value: number | string] }
  | { readonly finished: string }
  | { readonly agrees: string }
  | { readonly running: string }
  /** Packs and confirmed sizes agree. */
  | { readonly reconciled: true }
  /** The value offered for the capture equals this confirmed one. */
  | { readonly same: string }
) & {
  readonly unless?:
    | { readonly chosen: string }
    | { readonly skipped: string }
    | { readonly is: readonly [capture: string, value: number | string] };
};

/** A step, or a capture, and all that it needs before it may begin or be taken. */
export type Demand = ({ readonly step: string } | { readonly capture: string }) & {
  readonly needs: readonly Need[];
};

/** Shorthand for the most frequent kind. */
export const confirmed = (...captures: readonly string[]): readonly Need[] =>
  captures.map((capture) => ({ confirmed: capture }));
export const finished = (...steps: readonly string[]): readonly Need[] =>
  steps.map((step) => ({ finished: step }));
