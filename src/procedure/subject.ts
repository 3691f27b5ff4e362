/**
 * What an order is about, in the eyes of whoever gave it: the read-back on the
 * screen, the step that a track stood at. Most orders only name the kind of thing
 * ("confirm"), so an order that arrives after the thing has changed is told apart
 * by comparing its subject then and now.
 */
import type { Order, TrackId } from '../domain';
import type { CompiledProcedure } from './compile';
import { contextOf, positionOf } from './state';
import type { CaseState } from './state';

/** Equal for equal subjects; empty for orders that carry all they mean. */
export function subjectOf(compiled: CompiledProcedure, state: CaseState, order: Order): string {
  const context = contextOf(state);
  switch (order.type) {
    case 'capture.confirm':
    case 'capture.withdraw':
      return JSON.stringify(context.offered);
    case 'override.confirm':
    case 'override.withdraw':
      return JSON.stringify(context.overrideAsked);
    case 'step.finish':
    case 'step.goBack':
    case 'step.skip':
      return place(compiled, state, order.track);
    case 'group.finish':
      return compiled.tracks.map((track) => place(compiled, state, track)).join(' ');
    default:
      return '';
  }
}

function place(compiled: CompiledProcedure, state: CaseState, track: TrackId): string {
  if (!compiled.stepsOfTrack.has(track)) return '';
  const position = positionOf(compiled, state, track);
  return position.kind === 'done' ? 'done' : `${position.kind} ${position.step.id}`;
}
