/**
 * The case as the screens draw it: one plain value made from the machine's state
 * and the entries. Everything a screen shows comes from here, so the wall and the
 * desk can't disagree. Times are stamps; the screens count on from them.
 */
import type {
  CaptureId, CaptureValue, CaseId, CaseMode, CaseOutcome, ConditionState, ErrorCode, Fault, GroupId,
  HoldPointId, Milestone, OperatorText, Outline, PhaseId, PickedCard, RoleAssignment, Side, Stamp, StepId, TrackId,
} from '../../domain'; // prettier-ignore
import type { ImplantsView } from './view-implants';
import type { SurroundingsView } from './view-around';

/** Where a step of the line stands. */
export type StepPlace = 'done' | 'skipped' | 'doing' | 'waiting' | 'ahead';

export interface StepView {
  readonly id: StepId;
  readonly phase: PhaseId;
  readonly title: string;
  readonly short: string;
  readonly place: StepPlace;
  /** How often it has begun. */
  readonly rounds: number;
  /** The hold point in front of it, and whether it would stop now. */
  readonly holdPoint: {
    readonly id: HoldPointId;
    readonly isOpen: boolean;
    readonly missing: number;
  } | null;
  /** The step that a loop from here leads back to. */
  readonly loopsTo: StepId | null;
}

export interface CueView {
  readonly step: StepId;
  readonly text: string;
}

/** Something to open or prepare ahead of the step that needs it. */
export interface PrepareView {
  readonly text: string;
  readonly tray: string;
  readonly inSteps: number;
}

export interface TrackView {
  readonly id: TrackId;
  readonly title: string;
  readonly steps: readonly StepView[];
  readonly state: 'doing' | 'waiting' | 'done';
  /** What stands now, or is waited for; null when the track is done. */
  readonly current: {
    readonly step: StepId;
    readonly title: string;
    readonly detail: string;
    readonly since: Stamp | null;
    readonly round: number;
    /** Words that begin it, where it waits for them. */
    readonly beginSay: string | null;
    readonly canFinish: boolean;
  } | null;
  readonly phase: PhaseView | null;
  /** To hand over or prepare: now, next, then. Fewer near the end. */
  readonly cues: readonly CueView[];
  /** The hold point at which the track stands, if it does. */
  readonly held: HoldPointView | null;
  /** What must be opened or prepared now because it is needed a few steps on. */
  readonly prepare: readonly PrepareView[];
  /** How the step in hand may be left out, and what may be reported before its turn. */
  readonly leaveOut: { readonly step: StepId; readonly label: string; readonly say: string } | null;
  readonly ahead: readonly {
    readonly step: StepId;
    readonly label: string;
    readonly say: string;
  }[];
  readonly exit: { readonly group: GroupId; readonly label: string; readonly say: string } | null;
  readonly doneSay: string;
  readonly backSay: string;
}

export interface PhaseView {
  readonly id: PhaseId;
  readonly title: string;
  readonly isQuiet: boolean;
  readonly since: Stamp;
  readonly usualMs: number | null;
}

export interface HoldPointView {
  readonly id: HoldPointId;
  readonly title: string;
  readonly reason: string;
  readonly conditions: readonly ConditionState[];
  readonly state: 'open' | 'closed' | 'overridden';
  readonly step: StepId | null;
  readonly capture: CaptureId | null;
}

/** A capture that its step waits for. */
export interface WantedView {
  readonly capture: CaptureId;
  readonly track: TrackId;
  readonly kind:
    'number' | 'quantity' | 'choice' | 'yes-no' | 'clock' | 'report' | 'note' | 'label';
  readonly label: string;
  /** "mm", "°" or nothing. */
  readonly unit: string;
  /** The words that begin it, without the address phrase and without a value, which would suggest one; empty where it is typed or scanned. */
  readonly sayHint: string;
  /** What is said after them: "then the digits"; empty where nothing is. */
  readonly sayThen: string;
  /** The question in full, where it has one. */
  readonly asks: string | null;
  readonly isConfirmed: boolean;
  readonly planned: string | null;
  readonly options: readonly {
    readonly value: CaptureValue;
    readonly text: string;
    readonly isPlanned: boolean;
  }[];
}

/** The read-back that waits for an answer. */
export interface ReadBackView {
  readonly capture: CaptureId;
  readonly kind: WantedView['kind'];
  readonly label: string;
  readonly value: CaptureValue;
  /** Large: "24", "10:30", "Locking"; for a report the full sentence is in `spell`. */
  readonly text: string;
  readonly unit: string;
  /** As it is read back aloud: "Depth, two four". */
  readonly spell: string;
  readonly since: Stamp;
  readonly lapsesAfterMs: number;
  readonly planned: string | null;
  /** Where a clock direction points on this side: "back, above"; null without names for it. */
  readonly towards: string | null;
  /** What does not agree with it; empty where all does. */
  readonly warnings: readonly string[];
  /** It was confirmed once and is asked a second time. */
  readonly isQuestioned: boolean;
}

export type SizeState = 'settled' | 'doubtful' | 'offered' | 'wanted' | 'ahead';

/** One line of the sizes panel; screws share a line. */
export interface SizeRow {
  readonly label: string;
  readonly parts: readonly {
    /** Of a derived value its own id. */
    readonly capture: CaptureId;
    readonly text: string;
    readonly unit: string;
    readonly state: SizeState;
    readonly differsFromPlan: boolean;
  }[];
  /** Somebody has just asked for it. */
  readonly isAsked: boolean;
}

/** What the wall last heard or was told, and what came of it. */
export interface LastOrderView {
  readonly seq: number;
  readonly at: Stamp;
  readonly words: string | null;
  readonly outcome: 'done' | 'refused' | 'not-understood';
  readonly message: OperatorText | null;
}

export interface RefusalView {
  readonly seq: number;
  readonly at: Stamp;
  readonly code: ErrorCode;
  readonly text: OperatorText;
  readonly holdPoint: HoldPointId | null;
  readonly conditions: readonly ConditionState[];
}

export interface CaseView extends SurroundingsView {
  readonly caseId: CaseId;
  readonly mode: CaseMode;
  readonly title: string;
  readonly short: string;
  readonly note: string;
  readonly side: Side;
  readonly roles: readonly RoleAssignment[];
  /** Whose voice cards the listeners learn from now. */
  readonly voiceCards: readonly PickedCard[];
  /** These, and those of whoever handed a role over. */
  readonly everCards: readonly PickedCard[];
  /** BCP 47 tag of what people speak in this case. */
  readonly spokenLanguage: string;
  readonly status: 'running' | 'complete' | 'closed';
  readonly outcome: CaseOutcome | null;
  readonly openedAt: Stamp;
  readonly closedAt: Stamp | null;
  readonly tracks: readonly TrackView[];
  readonly wanted: readonly WantedView[];
  readonly readBack: ReadBackView | null;
  readonly sizes: readonly SizeRow[];
  readonly implants: ImplantsView;
  readonly holdPoints: readonly HoldPointView[];
  readonly overrideAsked: (HoldPointView & { readonly why: string }) | null;
  /** The newest refusal at a hold point, shown large until something else happens. */
  readonly heldAttempt: RefusalView | null;
  readonly refusals: readonly RefusalView[];
  readonly lastOrder: LastOrderView | null;
  readonly clockHold: { readonly reason: string; readonly since: Stamp } | null;
  readonly holdReasons: readonly {
    readonly id: string;
    readonly label: string;
    readonly say: string;
  }[];
  readonly milestones: readonly { readonly milestone: Milestone; readonly at: Stamp }[];
  readonly isMuted: boolean;
  /** True while announcements stay silent because a running phase is quiet. */
  readonly isQuiet: boolean;
  readonly outline: Outline;
  readonly addressPhrase: string;
  readonly entryCount: number;
  readonly unsavedCount: number;
  readonly storageFault: Fault | null;
}
