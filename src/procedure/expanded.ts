/**
 * A procedure written out: no repeats, no ranges, every step with everything about it
 * in one place. What the machine is compiled from and what everything else looks up.
 */
import type {
  AlternativeId, CaptureId, CountId, GroupId, HoldPointId, LoopId, Milestone, PhaseId, StepId, TrackId,
} from '../domain'; // prettier-ignore
import type { CaptureSpec, CheckItemSpec, ConditionSpec } from './format';

/** Where a repeated group may be left: at the first step of an item. */
export interface GroupExit {
  readonly group: GroupId;
  readonly title: string;
  readonly endSay: string;
  readonly endLabel: string;
  /** How many items are complete when the track stands here. */
  readonly itemsDone: number;
  readonly atLeast: number;
  /** The step after the group; null where the track ends. */
  readonly next: StepId | null;
}

export interface LoopBack {
  readonly id: LoopId;
  readonly title: string;
  readonly capture: CaptureId;
  readonly is: string;
  readonly backTo: StepId;
  /** From which round on the wall says how many; null where it never does. */
  readonly warnAfter: number | null;
}

/** The words and the button for something that may be said of a step. */
export interface Offer {
  readonly say: string;
  readonly label: string;
}

export interface Step {
  readonly id: StepId;
  readonly track: TrackId;
  readonly phase: PhaseId;
  /** The alternative that it belongs to; null on the main line. */
  readonly alternative: AlternativeId | null;
  readonly title: string;
  readonly short: string;
  readonly detail: string;
  readonly cue: string;
  readonly uses: readonly string[];
  readonly captures: readonly CaptureId[];
  readonly begins: 'itself' | 'said';
  readonly say: string | null;
  /** How it may be left out; null where it may not. */
  readonly optional: Offer | null;
  /** How it is reported before its turn; null where it can't be done ahead. */
  readonly ahead: Offer | null;
  readonly loop: LoopBack | null;
  readonly exit: GroupExit | null;
  readonly checklist: readonly CheckItemSpec[];
  readonly count: CountId | null;
  readonly begunMarks: Milestone | null;
  readonly finishedMarks: Milestone | null;
  readonly usualMin: number | null;
  readonly next: StepId | null;
}

/** A capture with its range written out. */
export type Capture = CaptureSpec extends infer Spec
  ? Spec extends { readonly kind: 'number' | 'quantity' }
    ? Omit<Spec, 'id' | 'values'> & { readonly id: CaptureId; readonly values: readonly number[] }
    : Spec extends { readonly kind: string }
      ? Omit<Spec, 'id'> & { readonly id: CaptureId }
      : never
  : never;

export interface HoldPoint {
  readonly id: HoldPointId;
  readonly title: string;
  readonly reason: string;
  readonly guards:
    | { readonly type: 'step'; readonly step: StepId }
    | { readonly type: 'capture'; readonly capture: CaptureId };
  readonly needs: readonly ConditionSpec[];
}

/** Another way on, and where on the line it can be chosen. */
export interface Alternative {
  readonly id: AlternativeId;
  readonly track: TrackId;
  readonly label: string;
  readonly say: string;
  readonly why: string;
  /** The steps at which it can be chosen. */
  readonly at: readonly StepId[];
  /** Its own first step, or where the track goes on; null ends the track. */
  readonly to: StepId | null;
  /** Steps of other tracks that these move on to. */
  readonly alsoTo: readonly StepId[];
}

export interface Expanded {
  readonly steps: readonly Step[];
  readonly captures: readonly Capture[];
  readonly holdPoints: readonly HoldPoint[];
  readonly alternatives: readonly Alternative[];
}
