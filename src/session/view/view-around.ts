/**
 * What the screens draw of that which surrounds the steps: checklists, counts, tallies,
 * timers, roles, other ways on, and what a changed size has put in doubt.
 */
import type {
  AlternativeId, CaptureId, CheckAnswer, CheckItemId, CountId, CountItemId, OrderType, RoleId, Stamp, StepId,
  CaptureValue, TallyId, TimerId, TrackId,
} from '../../domain'; // prettier-ignore

export interface ChecklistView {
  readonly step: StepId;
  readonly track: TrackId;
  readonly title: string;
  readonly items: readonly {
    readonly item: CheckItemId;
    readonly text: string;
    /** The role that answers, by its title. */
    readonly by: string;
    readonly say: string | null;
    /** Null where nobody has answered yet. */
    readonly answer: CheckAnswer | null;
  }[];
}

export interface CountView {
  readonly count: CountId;
  readonly title: string;
  readonly kind: 'baseline' | 'cavity' | 'closure' | 'final' | 'relief';
  /** The track whose step in hand takes it; null where none does now. */
  readonly track: TrackId | null;
  /** True while its step runs, or while it falls due by relief. */
  readonly isNow: boolean;
  readonly items: readonly {
    readonly item: CountItemId;
    readonly label: string;
    readonly say: string;
    /** What should be there: of a first count what the set usually holds; null where nothing is known. */
    readonly expected: number | null;
    readonly value: number | null;
    readonly result: 'agrees' | 'differs' | null;
  }[];
}

export interface HandedOutView {
  readonly item: CountItemId;
  readonly label: string;
  readonly first: number | null;
  readonly added: number;
}

export interface TallyView {
  readonly tally: TallyId;
  readonly label: string;
  readonly say: string;
  readonly total: number;
}

export interface TimerView {
  readonly timer: TimerId;
  readonly label: string;
  readonly remind: string;
  readonly since: Stamp;
  /** When it comes due: so long after this stamp; null where it will not any more. */
  readonly due: { readonly from: Stamp; readonly afterMs: number } | null;
  /** A reminder that nobody has answered yet. */
  readonly isDue: boolean;
  readonly answerSay: string | null;
  readonly stopSay: string | null;
}

/** A timer that can be started by hand. */
export interface IdleTimerView {
  readonly timer: TimerId;
  readonly label: string;
  readonly startSay: string | null;
}

export interface RoleView {
  readonly role: RoleId;
  readonly title: string;
  /** Who has it now; empty where nobody was named. */
  readonly label: string;
  readonly countsOnRelief: boolean;
}

export interface AlternativeView {
  readonly alternative: AlternativeId;
  readonly track: TrackId;
  readonly label: string;
  readonly say: string;
  readonly why: string;
}

/** A settled value that is being changed, or stands in doubt because another one was. */
export interface AgainView {
  readonly capture: CaptureId;
  readonly label: string;
  /** The value that still stands. */
  readonly text: string;
  readonly value: CaptureValue;
  readonly why: 'changing' | 'doubtful';
  readonly say: string;
}

/** What relied on a size, by the titles that people know. */
export interface RelianceView {
  readonly capture: CaptureId;
  readonly label: string;
  readonly relied: readonly { readonly label: string; readonly text: string }[];
  readonly steps: readonly string[];
}

export interface SurroundingsView {
  readonly checklists: readonly ChecklistView[];
  readonly counts: readonly CountView[];
  readonly handedOut: readonly HandedOutView[];
  readonly isReliefDue: boolean;
  readonly tallies: readonly TallyView[];
  readonly timers: readonly TimerView[];
  readonly idleTimers: readonly IdleTimerView[];
  readonly roleHolders: readonly RoleView[];
  readonly alternatives: readonly AlternativeView[];
  readonly again: readonly AgainView[];
  /** What relies on the size that is being changed; null while none is. */
  readonly reliance: RelianceView | null;
  /** Every settled value that can be said anew, and what would be in doubt if it were. */
  readonly changeable: readonly RelianceView[];
  /** The last order, if it can be taken back. */
  readonly undoable: OrderType | null;
}
