/** Overrides: at the desk only, with a reason, excusing only what was missing when asked. */
import { ok } from '../domain';
import type { HoldPointId } from '../domain';
import { describeConditions, isOpen, listUnmet } from './conditions';
import type { HoldPoint } from './expanded';
import { refuse } from './moment';
import type { Facts, Moment } from './moment';

/** Asks for an override; it counts once a second confirmation is given. */
export function requestOverride(moment: Moment, id: HoldPointId, reason: string): Facts {
  const { compiled, context, source } = moment;
  if (source !== 'desk') return refuse('override-only-at-desk', { source });
  const holdPoint = compiled.holdPoints.get(id);
  if (!holdPoint) return refuse('unknown-name', { name: id });
  if (reason.trim() === '') return refuse('override-needs-reason');
  if (isOpen(compiled, holdPoint, context)) {
    return refuse('override-not-needed', { holdPoint: id, title: holdPoint.title });
  }
  const excused = listUnmet(compiled, holdPoint, context);
  const missing = textsOf(moment, holdPoint, excused);
  const data = { holdPoint: id, reason: reason.trim(), excused, missing };
  return ok([{ type: 'override.requested', data }]);
}

/** Grants or withdraws the override that was asked for. */
export function answerOverride(
  moment: Moment,
  type: 'override.confirm' | 'override.withdraw',
): Facts {
  const { compiled, context, source } = moment;
  if (source !== 'desk') return refuse('override-only-at-desk', { source });
  const asked = context.overrideAsked;
  const holdPoint = asked && compiled.holdPoints.get(asked.holdPoint);
  if (!holdPoint) return refuse('no-override-asked');
  const { id, title } = holdPoint;
  if (type === 'override.withdraw') {
    return ok([{ type: 'override.withdrawn', data: { holdPoint: id } }]);
  }
  const unmet = listUnmet(compiled, holdPoint, context);
  if (unmet.length === 0) return refuse('override-not-needed', { holdPoint: id, title });
  // What has come to be missing since it was asked for was never agreed to.
  if (unmet.some((index) => !asked.excused.includes(index))) {
    return refuse('override-changed', { holdPoint: id, title });
  }
  const missing = textsOf(moment, holdPoint, unmet);
  return ok([{ type: 'override.granted', data: { holdPoint: id, excused: unmet, missing } }]);
}

function textsOf(
  { compiled, context }: Moment,
  holdPoint: HoldPoint,
  indexes: readonly number[],
): readonly string[] {
  return describeConditions(compiled, holdPoint, context)
    .filter((_, index) => indexes.includes(index))
    .map(({ text }) => text);
}
