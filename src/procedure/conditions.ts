/**
 * Whether a hold point's conditions are met, in one place: the guards, the texts
 * on the wall and the refusals all ask here.
 */
import { asId } from '../domain';
import type { CaptureId, CaptureValue, ConditionState, StepId } from '../domain';
import type { CaseContext } from './context';
import type { Capture, HoldPoint } from './expand';
import type { ConditionSpec } from './format';
import { fillText } from './values-of';

/** Whether one condition is met; `offered` is the value on its way into a guarded capture. */
export function isMet(
  condition: ConditionSpec,
  context: CaseContext,
  offered: CaptureValue | null = null,
): boolean {
  switch (condition.type) {
    case 'confirmed':
      return asId<CaptureId>(condition.capture) in context.confirmed;
    case 'is':
      return context.confirmed[asId<CaptureId>(condition.capture)] === condition.value;
    case 'finished':
      return context.passed[asId<StepId>(condition.step)] === 'finished';
    case 'same':
      return offered !== null && context.confirmed[asId<CaptureId>(condition.as)] === offered;
  }
}

/** Whether a hold point lets pass: overridden, or all its conditions met. */
export function isOpen(
  holdPoint: HoldPoint | undefined,
  context: CaseContext,
  offered: CaptureValue | null = null,
): boolean {
  if (!holdPoint || context.overridden[holdPoint.id]) return true;
  return holdPoint.needs.every((condition) => isMet(condition, context, offered));
}

/** Each condition with the text that fits its state. */
export function describeConditions(
  { captures }: { readonly captures: ReadonlyMap<CaptureId, Capture> },
  holdPoint: HoldPoint,
  context: CaseContext,
  offered: CaptureValue | null = null,
): readonly ConditionState[] {
  return holdPoint.needs.map((condition) => {
    const met = isMet(condition, context, offered);
    const text = met ? condition.met : condition.missing;
    return { isMet: met, text: fillText(text, context, captures) };
  });
}
