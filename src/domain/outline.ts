/**
 * An operation as a reader of the record needs it: titles by id, in order.
 * Made by src/procedure, read by src/review and src/ui.
 */
import type { AlternativeId, CaptureId, HoldPointId, PhaseId, StepId, TrackId } from './ids';

export interface StepOutline {
  readonly id: StepId;
  readonly title: string;
  readonly short: string;
}

export interface PhaseOutline {
  readonly id: PhaseId;
  readonly track: TrackId;
  readonly title: string;
  readonly isQuiet: boolean;
  /** What the team expects, in minutes; null where nobody has said. */
  readonly usualMin: number | null;
  readonly steps: readonly StepOutline[];
  /** The alternative that this phase belongs to; null on the main line. */
  readonly alternative: AlternativeId | null;
}

export interface TrackOutline {
  readonly id: TrackId;
  readonly title: string;
}

/** Another way through a track, as the team calls it. */
export interface AlternativeOutline {
  readonly id: AlternativeId;
  readonly label: string;
}

export interface Outline {
  readonly title: string;
  readonly tracks: readonly TrackOutline[];
  readonly phases: readonly PhaseOutline[];
  readonly alternatives: readonly AlternativeOutline[];
  readonly holdPoints: readonly { readonly id: HoldPointId; readonly title: string }[];
  readonly captures: readonly { readonly id: CaptureId; readonly label: string }[];
}
