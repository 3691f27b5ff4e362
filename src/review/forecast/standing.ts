/**
 * Where a running case stands on its main track, as the forecast needs it: what is
 * behind it, the phase in hand with its pass, and what lies ahead.
 */
import type { Entry, Outline, PhaseId, Stamp } from '../../domain';
import { digestPhases } from '../digest/digest-phases';
import { StandingFold } from './standing-fold';

export interface Standing {
  /** First passes of phases that are done, in milliseconds. */
  readonly done: readonly { readonly phase: PhaseId; readonly firstMs: number }[];
  /** The phase in hand; null before the first and after the last. */
  readonly current: {
    readonly phase: PhaseId;
    /** 1 for the first pass. */
    readonly pass: number;
    /** When this pass began, on the axis of the case. */
    readonly sinceMs: number;
    /** The first pass, where it is over. */
    readonly firstMs: number | null;
  } | null;
  /** Phases that have not begun and follow the phase in hand. */
  readonly ahead: readonly PhaseId[];
  /** Phases before the one in hand that never began: left out, or another way was taken. */
  readonly passedBy: readonly PhaseId[];
  readonly isComplete: boolean;
  /** Time on the axis of the case at the given moment. */
  readonly nowMs: number;
}

/** The standing of a case. `isComplete` is whether all its tracks are done. */
export function findStanding(
  entries: readonly Entry[],
  outline: Outline,
  now: Stamp,
  isComplete: boolean,
): Standing {
  return standingOf(new StandingFold(outline).take(entries), now, isComplete);
}

/** The same from what was taken so far. */
export function standingOf(
  { axis, times, outline }: StandingFold,
  now: Stamp,
  isComplete: boolean,
): Standing {
  const [main] = outline.tracks;
  const nowMs = axis.positionOf(now);
  const begun = digestPhases(times, outline, axis, now)
    .filter(({ track }) => track === main?.id)
    .toSorted((a, b) => a.fromMs - b.fromMs);
  const last = begun.at(-1);
  const order = outline.phases.filter(({ track }) => track === main?.id).map(({ id }) => id);
  const place = last ? order.indexOf(last.phase) : -1;
  const ended = isComplete || times.closedAt !== null;
  const earlier = last && last.passesMs.slice(0, -1).reduce((sum, ms) => sum + ms, 0);
  return {
    done: (ended ? begun : begun.slice(0, -1)).flatMap(({ phase, passesMs: [firstMs], isWhole }) =>
      firstMs === undefined || (!isWhole && phase !== last?.phase) ? [] : [{ phase, firstMs }],
    ),
    current:
      !last || ended
        ? null
        : {
            phase: last.phase,
            pass: last.passesMs.length,
            sinceMs: last.fromMs + (earlier ?? 0),
            firstMs: last.passesMs.length > 1 ? (last.passesMs[0] ?? null) : null,
          },
    ahead: ended
      ? []
      : order.slice(place + 1).filter((id) => !begun.some(({ phase }) => phase === id)),
    passedBy: order
      .slice(0, Math.max(0, place))
      .filter((id) => !begun.some(({ phase }) => phase === id)),
    isComplete: ended,
    nowMs,
  };
}
