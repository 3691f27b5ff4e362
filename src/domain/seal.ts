/**
 * What the chain of hashes says about a case: whether anything was changed, taken
 * out or moved after it was written. How the chain is made: docs/record-format.md.
 */

/** The outcome of checking a case's chain. */
export interface SealReport {
  /** Positions at which the chain does not hold, in order; empty where the case is as it was written. */
  readonly brokenAt: readonly number[];
  /** Entries before this position were written by a version that did not seal them. */
  readonly sealedFrom: number;
  /** Hash of the last entry, as 64 hexadecimal digits: on paper it fixes the whole case. Null for an empty one. */
  readonly hash: string | null;
}
