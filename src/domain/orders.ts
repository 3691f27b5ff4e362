/**
 * Orders: what somebody asks the wall to do, in the imperative. An order is never
 * a fact; the session decides whether it is legal now and answers with entries.
 */
import type { CaptureId, GroupId, HoldPointId, StepId, TrackId } from './ids';
import type { ImplantOrder } from './implants';
import type { Milestone } from './milestones';
import type { CaptureValue } from './values';

/** Who or what an order came from. */
export const SOURCES = ['voice', 'desk', 'pedal', 'scanner', 'wall'] as const;
export type Source = (typeof SOURCES)[number];

/** What can be asked without changing anything. */
export const QUESTIONS = ['next', 'repeat', 'sizes'] as const;
export type Question = (typeof QUESTIONS)[number];

/** How a case can end. */
export const CASE_OUTCOMES = ['finished', 'abandoned'] as const;
export type CaseOutcome = (typeof CASE_OUTCOMES)[number];

export type Order =
  | { readonly type: 'step.begin'; readonly step: StepId }
  | { readonly type: 'step.finish'; readonly track: TrackId }
  | { readonly type: 'step.goBack'; readonly track: TrackId }
  | { readonly type: 'step.skip'; readonly track: TrackId; readonly reason: string }
  | { readonly type: 'group.finish'; readonly group: GroupId }
  | { readonly type: 'capture.offer'; readonly capture: CaptureId; readonly value: CaptureValue }
  | { readonly type: 'capture.confirm' }
  | { readonly type: 'capture.withdraw' }
  | { readonly type: 'capture.lapse' }
  | { readonly type: 'clock.hold'; readonly reason: string }
  | { readonly type: 'clock.resume' }
  | { readonly type: 'question.ask'; readonly question: Question }
  | { readonly type: 'announcer.mute' }
  | { readonly type: 'announcer.unmute' }
  | { readonly type: 'override.request'; readonly holdPoint: HoldPointId; readonly reason: string }
  | { readonly type: 'override.confirm' }
  | { readonly type: 'override.withdraw' }
  | { readonly type: 'milestone.mark'; readonly milestone: Milestone }
  | { readonly type: 'case.close'; readonly outcome: CaseOutcome };

/** Whatever a running case takes: orders to the procedure's machine, and about packs and the planning sheet. */
export type RoomOrder = Order | ImplantOrder;

export type OrderType = Order['type'];
