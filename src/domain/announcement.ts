/**
 * Something the wall says aloud. Segments are short texts that are spoken one after
 * another; each may be a recorded clip. Priorities in falling order.
 */
import type { CaptureId, CountItemId, HoldPointId, StepId, TimerId } from './ids';
import type { CaptureValue } from './values';

export const ANNOUNCEMENT_PRIORITIES = [
  'hold-point',
  'read-back',
  'reminder',
  'answer',
  'cue',
] as const;
export type AnnouncementPriority = (typeof ANNOUNCEMENT_PRIORITIES)[number];

/** A short sound before the words, or instead of them: "answer me", "taken", "not yet". */
export const EARCONS = ['asks', 'taken', 'not-yet'] as const;
export type Earcon = (typeof EARCONS)[number];

/**
 * What an announcement is about. It is worth saying only as long as that stands, and a
 * later announcement about the same takes its place.
 */
export type AnnouncementSubject =
  | {
      readonly kind: 'read-back';
      readonly capture: CaptureId;
      readonly value: CaptureValue;
      readonly isQuestioned: boolean;
    }
  /** Sizes that are to be said (again). */
  | { readonly kind: 'unsettled'; readonly captures: readonly CaptureId[] }
  | { readonly kind: 'step'; readonly step: StepId }
  | { readonly kind: 'hold-point'; readonly holdPoint: HoldPointId }
  | { readonly kind: 'timer'; readonly timer: TimerId }
  | { readonly kind: 'count'; readonly item: CountItemId }
  /** What was just done or asked: true until something newer of the kind is said. */
  | { readonly kind: 'moment' };

export interface Announcement {
  readonly priority: AnnouncementPriority;
  readonly earcon?: Earcon;
  /** May be empty where the earcon says it all. */
  readonly segments: readonly string[];
  readonly about: AnnouncementSubject;
}
