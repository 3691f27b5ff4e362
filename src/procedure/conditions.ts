/**
 * Whether a hold point's conditions are met, in one place: the guards, the texts
 * on the wall and the refusals all ask here.
 */
import { asId } from '../domain';
import type { CaptureId, CaptureValue, ConditionState, StepId } from '../domain';
import type { CaseContext } from './context';
import type { Capture, HoldPoint } from './expand';
import type { ConditionSpec } from './format';
import type { Lookups } from './lookups';
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

/** Whether a hold point lets pass: every condition met, or excused by an override. */
export function isOpen(
  holdPoint: HoldPoint | undefined,
  context: CaseContext,
  offered: CaptureValue | null = null,
): boolean {
  if (!holdPoint) return true;
  const excused = context.overridden[holdPoint.id] ?? [];
  return holdPoint.needs.every(
    (condition, index) => excused.includes(index) || isMet(condition, context, offered),
  );
}

/** The places of the conditions that are neither met nor excused. */
export function listUnmet(
  holdPoint: HoldPoint,
  context: CaseContext,
  offered: CaptureValue | null = null,
): readonly number[] {
  const excused = context.overridden[holdPoint.id] ?? [];
  return holdPoint.needs.flatMap((condition, index) =>
    excused.includes(index) || isMet(condition, context, offered) ? [] : [index],
  );
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

/**
 * Whether a step stands on something that no longer holds: its own hold point, or one
 * that guards a size it has taken.
 */
export function isBroken(
  { steps, holdPointOfStep, holdPointOfCapture }: Lookups,
  step: StepId,
  context: CaseContext,
): boolean {
  const captures = steps.get(step)?.captures ?? [];
  return (
    !isOpen(holdPointOfStep.get(step), context) ||
    captures.some((capture) => {
      const value = context.confirmed[capture];
      return value !== undefined && !isOpen(holdPointOfCapture.get(capture), context, value);
    })
  );
}
