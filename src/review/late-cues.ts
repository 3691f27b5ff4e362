/**
 * Cues that were not ready when they were needed: what the session found by replaying the
 * case, as a mark of the picture. How they are found: src/session/announced/late-cues.ts.
 */
import type { HoldPointId, Stamp, TrackId } from '../domain';
import type { Mark } from './case-marks';

/** A stretch in which a track stood ready before a step and waited for another track. */
export interface LateCue {
  /** The track that waited. */
  readonly track: TrackId;
  /** The title of the step that waited. */
  readonly step: string;
  readonly holdPoint: HoldPointId;
  /** What was to be ready: the cues of the steps that were not finished. */
  readonly cues: readonly string[];
  readonly from: Stamp;
  readonly to: Stamp;
  /** How long it waited, a held clock left out, in milliseconds. */
  readonly ms: number;
  /** True where a restart lies inside, so that the wall clock had to be used. */
  readonly isEstimated: boolean;
  /** `left` where the track went another way, or the case was closed. */
  readonly end: 'ready' | 'overridden' | 'left' | 'waiting';
}

/** As a mark at the moment when it was needed. */
export function lateCueToMark({ track, holdPoint, cues, from }: LateCue): Mark {
  return { kind: 'late', at: from, track, holdPoint, text: cues.join(', '), size: null };
}
