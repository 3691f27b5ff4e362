/** What can be looked up in a procedure by id, before and beside its machine. */
import type { AlternativeId, CaptureId, HoldPointId, Outline, StepId, TrackId } from '../domain';
import type { Alternative, Capture, HoldPoint, Step } from './expanded';
import type { Procedure } from './format';

export interface Lookups {
  readonly procedure: Procedure;
  readonly outline: Outline;
  readonly tracks: readonly TrackId[];
  readonly steps: ReadonlyMap<StepId, Step>;
  /** Each track's steps in the order of its line, those of alternatives among them. */
  readonly stepsOfTrack: ReadonlyMap<TrackId, readonly Step[]>;
  readonly captures: ReadonlyMap<CaptureId, Capture>;
  readonly holdPoints: ReadonlyMap<HoldPointId, HoldPoint>;
  readonly holdPointOfStep: ReadonlyMap<StepId, HoldPoint>;
  readonly holdPointOfCapture: ReadonlyMap<CaptureId, HoldPoint>;
  readonly alternatives: ReadonlyMap<AlternativeId, Alternative>;
  /** The captures that were chosen by each one, directly. */
  readonly reliers: ReadonlyMap<CaptureId, readonly CaptureId[]>;
}
