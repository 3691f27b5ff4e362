/**
 * Entries: the facts of a case, in the past tense. They are appended, never edited
 * or deleted; a correction is a new entry. State is whatever replaying them gives.
 * A new kind of fact is added here, handled in procedure/machine.ts if it moves
 * the case, and described in docs/record-format.md. None is ever removed.
 */
import type { Stamp } from './clock';
import type { ErrorCode, ErrorParams } from './errors';
import type {
  AlternativeId, CaptureId, CaseId, CheckItemId, ConstraintId, CountId, CountItemId, GroupId, HoldPointId,
  LoopId, ProcedureId, RoleId, StepId, TallyId, TimerId, TrackId,
} from './ids'; // prettier-ignore
import type { ImplantFact } from './implants';
import type { Milestone } from './milestones';
import type { CaseOutcome, CheckAnswer, OrderType, Question, RoomOrder, Source } from './orders';
import type { CaptureValue } from './values';
import type { NamedCard, PickedCard } from './voice-cards';

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
  /** What the theatre is called here. Missing where nothing was typed, and in older records. */
  readonly theatre?: string;
  readonly roles: readonly RoleAssignment[];
  readonly plan: Readonly<Record<string, CaptureValue>>;
  /** Minutes after which each timer is due here, by its id; the procedure's own where none is given. */
  readonly intervals?: Readonly<Record<string, number>>;
  /** What one says first in this case; empty where a key or pedal opens the ear instead. Missing in older records. */
  readonly addressPhrase?: string;
  /** Whose recordings the listeners learn from in this case, one for each role at most. Missing in older records. */
  readonly voiceCards?: readonly PickedCard[];
}

/** Where every track stood and what was settled, as plain data of the machine. */
export interface RestoredState {
  readonly positions: Readonly<Record<string, string>>;
  readonly context: unknown;
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
  | {
      readonly type: 'case.closed';
      readonly data: { readonly outcome: CaseOutcome; readonly reason?: string };
    }
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
      /** An optional step was left out. */
      readonly type: 'step.leftOut';
      readonly data: { readonly track: TrackId; readonly step: StepId };
    }
  | {
      /** A step was done before its turn. */
      readonly type: 'step.doneAhead';
      readonly data: { readonly track: TrackId; readonly step: StepId };
    }
  | {
      /** A track came to a step that was done ahead, and goes on. */
      readonly type: 'step.passed';
      readonly data: { readonly track: TrackId; readonly step: StepId };
    }
  | {
      readonly type: 'alternative.chosen';
      readonly data: {
        readonly track: TrackId;
        readonly alternative: AlternativeId;
        readonly at: StepId;
        /** Where the other tracks stood that move with it. */
        readonly moved: Readonly<Record<TrackId, StepId>>;
      };
    }
  | {
      /** A track goes on at another step because of an alternative; null is its end. */
      readonly type: 'track.moved';
      readonly data: {
        readonly track: TrackId;
        readonly from: StepId;
        readonly to: StepId | null;
        readonly alternative: AlternativeId;
      };
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
  | {
      /** A value that does not agree with another was confirmed once and is asked again. */
      readonly type: 'capture.questioned';
      readonly data: {
        readonly capture: CaptureId;
        readonly value: CaptureValue;
        readonly constraints: readonly ConstraintId[];
      };
    }
  | {
      /** A settled value is to be said anew; until then it stands. */
      readonly type: 'capture.reopened';
      readonly data: { readonly capture: CaptureId };
    }
  | {
      /** The settled value stays as it was after all. */
      readonly type: 'capture.kept';
      readonly data: { readonly capture: CaptureId };
    }
  | {
      /** Values that were chosen by one that has changed; they count again once re-confirmed. */
      readonly type: 'capture.doubted';
      readonly data: { readonly captures: readonly CaptureId[]; readonly because: CaptureId };
    }
  | {
      readonly type: 'check.answered';
      readonly data: {
        readonly step: StepId;
        readonly item: CheckItemId;
        readonly answer: CheckAnswer;
      };
    }
  | {
      readonly type: 'count.recorded';
      readonly data: {
        readonly count: CountId;
        readonly item: CountItemId;
        readonly value: number | null;
        /** What was handed out by then; null for a baseline, which sets it. */
        readonly expected: number | null;
      };
    }
  | {
      readonly type: 'count.added';
      readonly data: { readonly item: CountItemId; readonly by: number };
    }
  | {
      readonly type: 'tally.added';
      readonly data: { readonly tally: TallyId; readonly by: number };
    }
  | { readonly type: 'timer.started'; readonly data: { readonly timer: TimerId } }
  | { readonly type: 'timer.stopped'; readonly data: { readonly timer: TimerId } }
  | { readonly type: 'timer.due'; readonly data: { readonly timer: TimerId } }
  | { readonly type: 'timer.answered'; readonly data: { readonly timer: TimerId } }
  | {
      readonly type: 'role.handedOver';
      readonly data: {
        readonly role: RoleId;
        readonly label: string;
        /** Whose recordings the listeners learn from in this role now; null without any. Missing in older records: as before. */
        readonly voiceCard?: NamedCard | null;
      };
    }
  | {
      /** The last order was taken back: where the case stood before it. */
      readonly type: 'order.undone';
      readonly data: {
        readonly order: OrderType;
        /** The first entry of the order that was taken back. */
        readonly since: number;
        readonly restores: RestoredState;
      };
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
  | {
      readonly type: 'question.asked';
      readonly data: { readonly question: Question; readonly capture?: CaptureId };
    }
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
