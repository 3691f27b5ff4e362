/**
 * Late cues, found by replaying a case: the main track stands before a step, its hold point
 * lacks nothing but what another track was to make ready, and the clock is not held. How
 * long that lasts is how late the cue was. It says who waited for what, not why.
 */
import { elapsedBetween } from '../../domain';
import type { Entry, Stamp, TrackId } from '../../domain';
import {
  applyFact, contextOf, fillText, initialState, isAccepted, listUnmet, loadRecordedProcedure, positionOf,
} from '../../procedure'; // prettier-ignore
import type { CaseState, CompiledProcedure, HoldPoint, Step } from '../../procedure';
import type { LateCue } from '../../review';

/** Saying and confirming that a thing is ready takes some seconds, in which nobody waits for it. */
const LEAST_MS = 15_000;

type Need = HoldPoint['needs'][number];
type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** What a track waits for at one moment. */
interface Waiting {
  readonly step: Step;
  readonly holdPoint: HoldPoint;
  readonly owing: readonly Step[];
}

/**
 * Late cues in order; `now` ends one that is still waited for. Stops at an entry that does not
 * follow; none where the case carries no procedure that can be run.
 */
export function findLateCues(entries: readonly Entry[], now: Stamp): readonly LateCue[] {
  const [opening] = entries;
  if (opening?.type !== 'case.opened') return [];
  const compiled = loadRecordedProcedure(opening.data.procedure);
  return compiled.ok ? findIn(compiled.value, entries, now) : [];
}

function findIn(
  compiled: CompiledProcedure,
  entries: readonly Entry[],
  now: Stamp,
): readonly LateCue[] {
  const [main] = compiled.tracks;
  if (main === undefined) return [];
  const found: Writable<LateCue>[] = [];
  let state = initialState(compiled);
  let open: Writable<LateCue> | null = null;
  let owing: readonly Step[] = [];
  for (const entry of entries) {
    if (!isAccepted(state, entry)) break;
    if (open) goOn(open, state, stampOf(entry));
    state = applyFact(compiled, state, entry);
    const waiting = waitingFor(compiled, state, main);
    if (open && open.holdPoint !== waiting?.holdPoint.id) {
      open.end = endOf(compiled, state, open);
      // What was not settled yet when it was needed has its size now.
      open.cues = cuesOf(compiled, state, owing);
      open = null;
    }
    if (waiting && !open) {
      open = startOf(compiled, state, main, waiting, entry);
      owing = waiting.owing;
      found.push(open);
    }
  }
  if (open) goOn(open, state, now);
  return found.filter(({ ms }) => ms >= LEAST_MS);
}

/** What the track stands before, where it lacks nothing but what other tracks owe; else null. */
function waitingFor(compiled: CompiledProcedure, state: CaseState, track: TrackId): Waiting | null {
  const position = positionOf(compiled, state, track);
  if (position.kind !== 'waiting') return null;
  const { step } = position;
  const holdPoint = compiled.holdPointOfStep.get(step.id);
  if (!holdPoint) return null;
  const unmet = listUnmet(compiled, holdPoint, contextOf(state));
  const owing = unmet.map((index) => owingSteps(compiled, track, holdPoint.needs[index]));
  return owing.length > 0 && owing.every((steps) => steps.length > 0)
    ? { step, holdPoint, owing: [...new Set(owing.flat())] }
    : null;
}

/** The steps of other tracks that settle a need; none where the track itself could. */
function owingSteps(
  { steps }: CompiledProcedure,
  track: TrackId,
  need: Need | undefined,
): readonly Step[] {
  if (need === undefined) return [];
  const settling = [...steps.values()].filter(({ id, captures }) => {
    if (need.type === 'finished') return id === need.step;
    if (need.type === 'confirmed' || need.type === 'is')
      return captures.some((capture) => capture === need.capture);
    return false;
  });
  return settling.every((step) => step.track !== track) ? settling : [];
}

function startOf(
  compiled: CompiledProcedure,
  state: CaseState,
  track: TrackId,
  { step, holdPoint, owing }: Waiting,
  entry: Entry,
): Writable<LateCue> {
  const context = contextOf(state);
  return {
    track,
    step: fillText(compiled, step.title, context),
    holdPoint: holdPoint.id,
    cues: cuesOf(compiled, state, owing),
    from: stampOf(entry),
    to: stampOf(entry),
    ms: 0,
    isEstimated: false,
    end: 'waiting',
  };
}

function cuesOf(
  compiled: CompiledProcedure,
  state: CaseState,
  steps: readonly Step[],
): readonly string[] {
  return [...new Set(steps.map(({ cue }) => fillText(compiled, cue, contextOf(state))))];
}

function endOf(
  compiled: CompiledProcedure,
  state: CaseState,
  { holdPoint: id, track }: LateCue,
): LateCue['end'] {
  const holdPoint = compiled.holdPoints.get(id);
  const position = positionOf(compiled, state, track);
  const isThere =
    holdPoint?.guards.type === 'step' &&
    position.kind !== 'done' &&
    position.step.id === holdPoint.guards.step;
  if (!isThere) return 'left';
  return (contextOf(state).overridden[id] ?? []).length > 0 ? 'overridden' : 'ready';
}

/** It lasts until `to`; in `state`, which held until then, the clock ran or was held. */
function goOn(cue: Writable<LateCue>, state: CaseState, to: Stamp): void {
  const { ms, isEstimated } = elapsedBetween(cue.to, to);
  cue.to = to;
  if (contextOf(state).isClockHeld) return;
  cue.ms += ms;
  cue.isEstimated ||= isEstimated;
}

function stampOf({ at, mono, run }: Stamp): Stamp {
  return { at, mono, run };
}
