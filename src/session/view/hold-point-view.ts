/** One hold point as the screens show it. */
import { contextOf, describeConditions, isOpen } from '../../procedure';
import type { CompiledProcedure, HoldPoint } from '../../procedure';
import type { CaseFacts } from '../case-facts';
import type { HoldPointView } from './view';

/** One hold point with its conditions as they stand. */
export function viewHoldPoint(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  point: HoldPoint,
): HoldPointView {
  const context = contextOf(facts.state);
  const offered =
    point.guards.type === 'capture' ? (context.confirmed[point.guards.capture] ?? null) : null;
  const conditions = describeConditions(compiled, point, context, offered);
  const isExcused = (context.overridden[point.id] ?? []).length > 0;
  return {
    id: point.id,
    title: point.title,
    reason: point.reason,
    conditions,
    state: !isOpen(compiled, point, context, offered)
      ? 'closed'
      : isExcused
        ? 'overridden'
        : 'open',
    step: point.guards.type === 'step' ? point.guards.step : null,
    capture: point.guards.type === 'capture' ? point.guards.capture : null,
  };
}
