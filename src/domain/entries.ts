/**
 * Entries: the facts of a case, in the past tense. They are appended, never edited
 * or deleted; a correction is a new entry. State is whatever replaying them gives.
 * A new kind of fact is added here, handled in procedure/machine.ts if it moves
 * the case, and described in docs/record-format.md. None is ever removed.
 */
import type { Stamp } from './clock';
import type { ErrorCode, ErrorParams } from './errors';
import type {
  CaptureId,
  CaseId,
  GroupId,
  HoldPointId,
  LoopId,
  ProcedureId,
  StepId,
  TrackId,
} from './ids';
import type { ImplantFact } from './implants';
import type { Milestone } from './milestones';
import type { CaseOutcome, Question, RoomOrder, Source } from './orders';
import type { CaptureValue } from './values';

/** The version of the entry format that this program writes. */
export const ENTRY_VERSION = 2;

/** The side operated on. */
export const SIDES = ['left', 'right'] as const;
export type Side = (typeof SIDES)[number];

/** A rehearsal runs on recorded audio; a demo on invented data; neither mixes with real cases. */
export const CASE_MODES = ['real', 'rehearsal', 'demo'] as const;
export type CaseMode = (typeof CASE_MODES)[number];

/** Who does what, by role and never by name. */
export interface RoleAssignment {
  readonly role: string;
  readonly label: string;
}

/** What was agreed before the case began. */
export interface CaseSetup {
  readonly procedureId: ProcedureId;
  /** The whole procedure as it was, so that the record can be replayed for ever. */
  readonly procedure: unknown;
  readonly mode: CaseMode;
  readonly side: Side;
  readonly roles: readonly RoleAssignment[];
  readonly plan: Readonly<Record<string, CaptureValue>>;
}

/** One thing a hold point asks for, and whether it was met at that moment. */
export interface ConditionState {
  readonly text: string;
  readonly isMet: boolean;
}

export type Fact =
  | ImplantFact
  | { readonly type: 'case.opened'; readonly data: CaseSetup }
  | { readonly type: 'run.resumed'; readonly data: Record<string, never> }
  | {
      /** A damaged end of the record was set aside when the case was taken up. */
      readonly type: 'record.mended';
      readonly data: {
        /** The first position that could not be read. */
        readonly from: number;
        /** How many values were set aside; 0 where they were gone. */
        readonly setAside: number;
        readonly detail: string;
      };
    }
  | { readonly type: 'case.closed'; readonly data: { readonly outcome: CaseOutcome } }
  | {
      readonly type: 'step.begun';
      readonly data: { readonly track: TrackId; readonly step: StepId };
    }
  | {
      readonly type: 'step.finished';
      readonly data: { readonly track: TrackId; readonly step: StepId };
    }
  | {
      /** A hold point closed again under a step that had begun. */
      readonly type: 'step.held';
      readonly data: {
        readonly track: TrackId;
        readonly step: StepId;
        readonly holdPoint: HoldPointId;
      };
    }
  | {
      readonly type: 'step.reopened';
      readonly data: { readonly track: TrackId; readonly from: StepId | null; readonly to: StepId };
    }
  | {
      readonly type: 'step.skipped';
      readonly data: { readonly track: TrackId; readonly step: StepId; readonly reason: string };
    }
  | {
      readonly type: 'loop.repeated';
      readonly data: { readonly loop: LoopId; readonly from: StepId; readonly to: StepId };
    }
  | {
      readonly type: 'group.finished';
      readonly data: { readonly track: TrackId; readonly group: GroupId; readonly at: StepId };
    }
  | {
      readonly type: 'capture.offered';
      readonly data: { readonly capture: CaptureId; readonly value: CaptureValue };
    }
  | {
      readonly type: 'capture.confirmed';
      readonly data: { readonly capture: CaptureId; readonly value: CaptureValue };
    }
  | {
      readonly type: 'capture.withdrawn';
      readonly data: { readonly capture: CaptureId; readonly value: CaptureValue };
    }
  | {
      readonly type: 'capture.lapsed';
      readonly data: { readonly capture: CaptureId; readonly value: CaptureValue };
    }
  | { readonly type: 'clock.held'; readonly data: { readonly reason: string } }
  | { readonly type: 'clock.resumed'; readonly data: Record<string, never> }
  | {
      readonly type: 'override.requested';
      readonly data: {
        readonly holdPoint: HoldPointId;
        readonly reason: string;
        /** Conditions that are not met, by their place in the hold point: only these are excused. */
        readonly excused: readonly number[];
        readonly missing: readonly string[];
      };
    }
  | {
      readonly type: 'override.granted';
      readonly data: {
        readonly holdPoint: HoldPointId;
        readonly excused: readonly number[];
        readonly missing: readonly string[];
      };
    }
  | { readonly type: 'override.withdrawn'; readonly data: { readonly holdPoint: HoldPointId } }
  | { readonly type: 'milestone.reached'; readonly data: { readonly milestone: Milestone } }
  | { readonly type: 'question.asked'; readonly data: { readonly question: Question } }
  | { readonly type: 'announcer.muted'; readonly data: Record<string, never> }
  | { readonly type: 'announcer.unmuted'; readonly data: Record<string, never> }
  | {
      /** Speech that a listener took for a command or could make nothing of. */
      readonly type: 'phrase.heard';
      readonly data: {
        readonly words: string | null;
        readonly score: number;
        readonly listener: string;
        readonly speechMs: number;
        readonly decisionMs: number;
      };
    }
  | {
      readonly type: 'order.refused';
      readonly data: {
        readonly order: RoomOrder | null;
        readonly code: ErrorCode;
        readonly params: ErrorParams;
        readonly holdPoint: HoldPointId | null;
        readonly conditions: readonly ConditionState[];
      };
    };

export type FactType = Fact['type'];
export type FactOf<T extends FactType> = Extract<Fact, { readonly type: T }>;

/** What every entry carries beside its fact. */
export interface EntryHead extends Stamp {
  readonly caseId: CaseId;
  /** Position in the case, from 0, without gaps. */
  readonly seq: number;
  readonly source: Source;
  readonly version: number;
  /** The order that this entry answers, where it came from another window or a list: the same id, the same order. */
  readonly order?: string;
}

/** One line of the record. */
export type Entry = EntryHead & Fact;

/** Puts a head and a fact together. */
export function toEntry(head: EntryHead, fact: Fact): Entry {
  return { ...head, ...fact };
}
