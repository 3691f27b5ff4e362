/** What can be looked up in a procedure by id, before and beside its machine. */
import type { CaptureId, HoldPointId, Outline, StepId, TrackId } from '../domain';
import type { Capture, HoldPoint, Step } from './expand';
import type { Procedure } from './format';

export interface Lookups {
  readonly procedure: Procedure;
  readonly outline: Outline;
  readonly tracks: readonly TrackId[];
  readonly steps: ReadonlyMap<StepId, Step>;
  readonly stepsOfTrack: ReadonlyMap<TrackId, readonly Step[]>;
  readonly captures: ReadonlyMap<CaptureId, Capture>;
  readonly holdPoints: ReadonlyMap<HoldPointId, HoldPoint>;
  readonly holdPointOfStep: ReadonlyMap<StepId, HoldPoint>;
  readonly holdPointOfCapture: ReadonlyMap<CaptureId, HoldPoint>;
}
