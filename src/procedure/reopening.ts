/** Going back to a step, and taking other tracks along that had moved with an alternative. */
import type { Fact, StepId, TrackId } from '../domain';
import type { CompiledProcedure } from './compile';
import { contextOf, positionOf } from './state';
import type { CaseState } from './state';

/** The facts that reopen a passed step: its own, and one for each track that stands on a choice now gone. */
export function reopening(
  compiled: CompiledProcedure,
  state: CaseState,
  track: TrackId,
  to: StepId,
): readonly Fact[] {
  const line = lineOf(compiled, track);
  const from = standsAt(compiled, state, track);
  const reach = line.slice(line.indexOf(to), from ? line.indexOf(from) + 1 : undefined);
  const undone = Object.values(contextOf(state).chosen).filter(({ at }) => reach.includes(at));
  const others = undone.flatMap(({ moved }) => Object.entries(moved) as [TrackId, StepId][]);
  return [
    { type: 'step.reopened', data: { track, from, to } },
    ...others.flatMap(([other, before]): Fact[] => {
      const now = standsAt(compiled, state, other);
      const ids = lineOf(compiled, other);
      const isPast = now === null || ids.indexOf(now) > ids.indexOf(before);
      return isPast
        ? [{ type: 'step.reopened', data: { track: other, from: now, to: before } }]
        : [];
    }),
  ];
}

/** The step that a track stands at; null at its end. */
function standsAt(compiled: CompiledProcedure, state: CaseState, track: TrackId): StepId | null {
  const position = positionOf(compiled, state, track);
  return position.kind === 'done' ? null : position.step.id;
}

function lineOf(compiled: CompiledProcedure, track: TrackId): readonly StepId[] {
  return (compiled.stepsOfTrack.get(track) ?? []).map(({ id }) => id);
}
