/**
 * The machine's context: what is settled, by id. No times, no lists that grow, so
 * that equal situations are equal states and all of them can be counted.
 */
import type { CaptureId, CaptureValue, HoldPointId, StepId } from '../domain';

export interface CaseContext {
  /** Sizes and reports that a person has confirmed. */
  readonly confirmed: Readonly<Record<CaptureId, CaptureValue>>;
  /** The read-back that waits for an answer; at most one in the room. */
  readonly offered: { readonly capture: CaptureId; readonly value: CaptureValue } | null;
  /** Steps behind the track's position. */
  readonly passed: Readonly<Record<StepId, 'finished' | 'skipped'>>;
  /** Which conditions of a hold point are excused, by their place in it. */
  readonly overridden: Readonly<Record<HoldPointId, readonly number[]>>;
  readonly overrideAsked: {
    readonly holdPoint: HoldPointId;
    readonly excused: readonly number[];
  } | null;
  readonly isClockHeld: boolean;
  readonly isMuted: boolean;
}

/** How every case starts. */
export function emptyContext(): CaseContext {
  return {
    confirmed: {},
    offered: null,
    passed: {},
    overridden: {},
    overrideAsked: null,
    isClockHeld: false,
    isMuted: false,
  };
}

/** A copy without some keys; the same object where none was there. */
export function without<Key extends string, Value>(
  map: Readonly<Record<Key, Value>>,
  keys: readonly Key[],
): Readonly<Record<Key, Value>> {
  const gone = new Set<string>(keys);
  const kept = Object.entries(map).filter(([key]) => !gone.has(key));
  return kept.length === Object.keys(map).length
    ? map
    : (Object.fromEntries(kept) as Record<Key, Value>);
}
