/**
 * The machine's context: what is settled, by id. No times, no lists that grow, so
 * that equal situations are equal states and all of them can be counted.
 */
import type {
  AlternativeId, CaptureId, CaptureValue, CheckAnswer, CountId, CountItemId, HoldPointId, StepId, TimerId, TrackId,
} from '../domain'; // prettier-ignore

/** How a step came to lie behind its track: done, left out, or on a way not taken. */
export type Passed = 'finished' | 'skipped' | 'bypassed';

export interface CaseContext {
  /** Sizes and reports that a person has confirmed. */
  readonly confirmed: Readonly<Record<CaptureId, CaptureValue>>;
  /** Of these, the ones chosen by something that has changed since; they count again once re-confirmed. */
  readonly doubtful: Readonly<Record<CaptureId, true>>;
  /** The settled value that somebody wants to say anew. */
  readonly changing: CaptureId | null;
  /** The read-back that waits for an answer; at most one in the room. */
  readonly offered: { readonly capture: CaptureId; readonly value: CaptureValue } | null;
  /** Whether it was confirmed once and asked again, because it does not agree with another value. */
  readonly isQuestioned: boolean;
  /** Steps behind the track's position, and those done ahead of it. */
  readonly passed: Readonly<Record<StepId, Passed>>;
  readonly chosen: Readonly<Record<AlternativeId, ChosenAt>>;
  /** Answers by step and item, joined by a slash. */
  readonly checks: Readonly<Record<string, CheckAnswer>>;
  /** How many of each item were there at first, and were added since. */
  readonly handedOut: Readonly<
    Record<CountItemId, { readonly first: number; readonly added: number }>
  >;
  readonly counted: Readonly<Record<CountId, Readonly<Record<CountItemId, CountResult>>>>;
  readonly isReliefDue: boolean;
  readonly running: Readonly<Record<TimerId, true>>;
  /** Which conditions of a hold point are excused, by their place in it. */
  readonly overridden: Readonly<Record<HoldPointId, readonly number[]>>;
  readonly overrideAsked: {
    readonly holdPoint: HoldPointId;
    readonly excused: readonly number[];
  } | null;
  /** Packs and confirmed sizes were compared since the last size changed, and agree. */
  readonly packsAgree: boolean;
  readonly isClockHeld: boolean;
  readonly isMuted: boolean;
}

/** Where an alternative was chosen, and where the other tracks stood that moved with it. */
export interface ChosenAt {
  readonly at: StepId;
  readonly moved: Readonly<Record<TrackId, StepId>>;
}

export type CountResult = 'agrees' | 'differs';

/** How every case starts. */
export function emptyContext(): CaseContext {
  return {
    confirmed: {},
    doubtful: {},
    changing: null,
    offered: null,
    isQuestioned: false,
    passed: {},
    chosen: {},
    checks: {},
    handedOut: {},
    counted: {},
    isReliefDue: false,
    running: {},
    overridden: {},
    overrideAsked: null,
    packsAgree: false,
    isClockHeld: false,
    isMuted: false,
  };
}

/** The key of one checklist answer. */
export function checkKey(step: string, item: string): string {
  return `${step}/${item}`;
}

/** A copy without some keys; the same object where none was there. */
export function without<Key extends string, Value>(
  map: Readonly<Record<Key, Value>>,
  keys: readonly Key[],
): Readonly<Record<Key, Value>> {
  // Most often nothing is there to take out; a replay asks thousands of times.
  if (!keys.some((key) => Object.hasOwn(map, key))) return map;
  const gone = new Set<string>(keys);
  const kept = Object.entries(map).filter(([key]) => !gone.has(key));
  return Object.fromEntries(kept) as Record<Key, Value>;
}
