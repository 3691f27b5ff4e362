/**
 * Orders: what somebody asks the wall to do, in the imperative. An order is never
 * a fact; the session decides whether it is legal now and answers with entries.
 */
import type {
  AlternativeId, CaptureId, CheckItemId, CountId, CountItemId, GroupId, HoldPointId, RoleId, StepId, TallyId,
  TimerId, TrackId,
} from './ids'; // prettier-ignore
import type { ImplantOrder } from './implants';
import type { Milestone } from './milestones';
import type { CaptureValue } from './values';
import type { NamedCard } from './voice-cards';

/** Who or what an order came from. */
export const SOURCES = ['voice', 'desk', 'pedal', 'scanner', 'wall'] as const;
export type Source = (typeof SOURCES)[number];

/** What can be asked without changing anything. */
export const QUESTIONS = ['next', 'repeat', 'sizes', 'size', 'plan', 'tolerance'] as const;
export type Question = (typeof QUESTIONS)[number];

/** How a case can end. */
export const CASE_OUTCOMES = ['finished', 'abandoned'] as const;
export type CaseOutcome = (typeof CASE_OUTCOMES)[number];

/** How one line of a checklist is answered. */
export const CHECK_ANSWERS = ['yes', 'no', 'not-applicable'] as const;
export type CheckAnswer = (typeof CHECK_ANSWERS)[number];

export type Order =
  | { readonly type: 'step.begin'; readonly step: StepId }
  | { readonly type: 'step.finish'; readonly track: TrackId }
  | { readonly type: 'step.goBack'; readonly track: TrackId }
  | { readonly type: 'step.skip'; readonly track: TrackId; readonly reason: string }
  /** Leaves out a step that the procedure calls optional. */
  | { readonly type: 'step.leaveOut'; readonly step: StepId }
  /** Reports a step that was done before its turn. */
  | { readonly type: 'step.reportAhead'; readonly step: StepId }
  | { readonly type: 'alternative.choose'; readonly alternative: AlternativeId }
  | { readonly type: 'group.finish'; readonly group: GroupId }
  | { readonly type: 'capture.offer'; readonly capture: CaptureId; readonly value: CaptureValue }
  | { readonly type: 'capture.confirm' }
  | { readonly type: 'capture.withdraw' }
  | { readonly type: 'capture.lapse' }
  /** Asks to say a settled value anew; the old one stands until the new one is confirmed. */
  | { readonly type: 'capture.change'; readonly capture: CaptureId }
  | { readonly type: 'capture.keep' }
  | {
      readonly type: 'check.answer';
      readonly step: StepId;
      readonly item: CheckItemId;
      readonly answer: CheckAnswer;
    }
  | {
      readonly type: 'count.record';
      readonly count: CountId;
      readonly item: CountItemId;
      /** How many were counted; null where it is only known that they differ. */
      readonly value: number | null;
    }
  | { readonly type: 'count.add'; readonly item: CountItemId; readonly by: number }
  | { readonly type: 'tally.add'; readonly tally: TallyId; readonly by: number }
  | { readonly type: 'timer.start'; readonly timer: TimerId }
  | { readonly type: 'timer.stop'; readonly timer: TimerId }
  /** The reminder was followed. */
  | { readonly type: 'timer.answer'; readonly timer: TimerId }
  /** The wall's own: a timer has come due. */
  | { readonly type: 'timer.remind'; readonly timer: TimerId }
  | {
      readonly type: 'role.handOver';
      readonly role: RoleId;
      readonly label: string;
      /** The newcomer's voice card; none where it is missing. */
      readonly voiceCard?: NamedCard | null;
    }
  /** Takes back the last order that moved the case. */
  | { readonly type: 'order.undo' }
  | { readonly type: 'clock.hold'; readonly reason: string }
  | { readonly type: 'clock.resume' }
  | {
      readonly type: 'question.ask';
      readonly question: Question;
      /** Which size, where one is asked for. */
      readonly capture?: CaptureId;
    }
  | { readonly type: 'announcer.mute' }
  | { readonly type: 'announcer.unmute' }
  | { readonly type: 'override.request'; readonly holdPoint: HoldPointId; readonly reason: string }
  | { readonly type: 'override.confirm' }
  | { readonly type: 'override.withdraw' }
  | { readonly type: 'milestone.mark'; readonly milestone: Milestone }
  | { readonly type: 'case.close'; readonly outcome: CaseOutcome; readonly reason?: string };

/** Whatever a running case takes: orders to the procedure's machine, and about packs and the planning sheet. */
export type RoomOrder = Order | ImplantOrder;

export type OrderType = Order['type'];
