/**
 * Compiles a checked procedure: writes it out, makes everything that can be looked up
 * in it, and the XState machine of its case (case-machine.ts).
 */
import type { Outline, PhaseId, TrackId } from '../domain';
import { asId } from '../domain';
import { createCaseMachine } from './case-machine';
import type { CaseMachine } from './case-machine';
import { expandProcedure, listPhases } from './expand';
import type { Expanded, HoldPoint, Step } from './expanded';
import type { Procedure } from './format';
import type { Lookups } from './lookups';
import { findReliers } from './reliance';

/** A procedure ready to run: its machine and everything that can be looked up in it. */
export interface CompiledProcedure extends Lookups {
  readonly machine: CaseMachine;
}

/** Compiles a procedure that has passed the checks of check.ts. */
export function compileProcedure(procedure: Procedure): CompiledProcedure {
  const lookups = makeLookups(procedure, expandProcedure(procedure));
  return { ...lookups, machine: createCaseMachine(lookups) };
}

function makeLookups(procedure: Procedure, expanded: Expanded): Lookups {
  const { steps, captures, holdPoints, alternatives } = expanded;
  const stepsOfTrack = new Map<TrackId, Step[]>();
  for (const { id } of procedure.tracks) stepsOfTrack.set(asId(id), []);
  for (const step of steps) stepsOfTrack.get(step.track)?.push(step);
  return {
    procedure,
    outline: toOutline(procedure, expanded),
    tracks: [...stepsOfTrack.keys()],
    steps: byId(steps),
    stepsOfTrack,
    captures: byId(captures),
    holdPoints: byId(holdPoints),
    holdPointOfStep: new Map(
      holdPoints.flatMap((point) =>
        point.guards.type === 'step' ? [[point.guards.step, point] as const] : [],
      ),
    ),
    holdPointOfCapture: new Map(
      holdPoints.flatMap(
        (point): [Extract<HoldPoint['guards'], { type: 'capture' }>['capture'], HoldPoint][] =>
          point.guards.type === 'capture' ? [[point.guards.capture, point]] : [],
      ),
    ),
    alternatives: byId(alternatives),
    reliers: findReliers({ ...procedure, steps, captures, holdPoints }),
  };
}

function byId<Item extends { readonly id: string }>(
  items: readonly Item[],
): ReadonlyMap<Item['id'], Item> {
  return new Map(items.map((item) => [item.id, item]));
}

function toOutline(procedure: Procedure, { steps, captures, holdPoints }: Expanded): Outline {
  return {
    title: procedure.title,
    tracks: procedure.tracks.map(({ id, title }) => ({ id: asId<TrackId>(id), title })),
    phases: procedure.tracks.flatMap((track) =>
      listPhases(track).map(({ phase, alternative }) => ({
        id: asId<PhaseId>(phase.id),
        track: asId<TrackId>(track.id),
        title: phase.title,
        isQuiet: phase.quiet,
        usualMin: phase.usualMin ?? null,
        alternative: alternative && asId(alternative.id),
        steps: steps
          .filter((step) => step.phase === phase.id && step.track === track.id)
          .map(({ id, title, short }) => ({ id, title, short })),
      })),
    ),
    alternatives: procedure.tracks.flatMap((track) =>
      track.alternatives.map(({ id, label }) => ({ id: asId(id), label })),
    ),
    holdPoints: holdPoints.map(({ id, title }) => ({ id, title })),
    captures: captures.map(({ id, label }) => ({ id, label })),
  };
}
