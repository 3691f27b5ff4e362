/** What a step still lacks before it may be finished, and the facts that finish it. */
import type { CaptureId, Fact, StepId } from '../domain';
import { isSettled } from './conditions';
import type { CaseContext } from './context';
import { checkKey } from './context';
import { listUncounted } from './counts';
import type { Step } from './expanded';
import type { CheckItemSpec } from './format';
import type { Lookups } from './lookups';

/** Captures of a step that are not settled. */
export function listMissingCaptures(step: Step, context: CaseContext): readonly CaptureId[] {
  return step.captures.filter((capture) => !isSettled(context, capture));
}

/** Lines of its checklist without an answer, or with "no". */
export function listOpenChecks(step: Step, { checks }: CaseContext): readonly CheckItemSpec[] {
  return step.checklist.filter(({ id }) => (checks[checkKey(step.id, id)] ?? 'no') === 'no');
}

/** Whether nothing is missing: sizes, answers and counts. */
export function isReadyToFinish(compiled: Lookups, id: StepId, context: CaseContext): boolean {
  const step = compiled.steps.get(id);
  return (
    !!step &&
    !step.captures.some((capture) => capture === context.offered?.capture) &&
    listMissingCaptures(step, context).length === 0 &&
    listOpenChecks(step, context).length === 0 &&
    (step.count === null || listUncounted(compiled.procedure, context, step.count).length === 0)
  );
}

/** The facts that end a step: that it is finished and, where it loops back, that too. */
export function finishing(step: Step, context: CaseContext): readonly Fact[] {
  const { loop, track, id } = step;
  const finished: Fact = { type: 'step.finished', data: { track, step: id } };
  return loop && context.confirmed[loop.capture] === loop.is
    ? [finished, { type: 'loop.repeated', data: { loop: loop.id, from: id, to: loop.backTo } }]
    : [finished];
}
