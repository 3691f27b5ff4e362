/**
 * Whether a hold point's conditions are met, in one place: the guards, the texts
 * on the wall and the refusals all ask here.
 */
import { asId } from '../domain';
import type {
  AlternativeId,
  CaptureId,
  CaptureValue,
  ConditionState,
  CountId,
  StepId,
  TimerId,
} from '../domain';
import { isRefused } from './constraints';
import type { CaseContext } from './context';
import { isCountSettled } from './counts';
import type { HoldPoint } from './expanded';
import type { ConditionSpec, Procedure, UnlessSpec } from './format';
import type { Lookups } from './lookups';
import { fillText } from './values-of';

/** What conditions are looked up in. */
type Book = Pick<Lookups, 'procedure'>;

/** Whether one condition is met; `offered` is the value on its way into a guarded capture. */
export function isMet(
  { procedure }: Book,
  condition: ConditionSpec,
  context: CaseContext,
  offered: CaptureValue | null = null,
): boolean {
  return (
    (condition.unless !== undefined && applies(condition.unless, context)) ||
    holds(procedure, condition, context, offered)
  );
}

function holds(
  procedure: Procedure,
  condition: ConditionSpec,
  context: CaseContext,
  offered: CaptureValue | null,
): boolean {
  switch (condition.type) {
    case 'confirmed':
      return isSettled(context, asId<CaptureId>(condition.capture));
    case 'is': {
      const capture = asId<CaptureId>(condition.capture);
      return isSettled(context, capture) && context.confirmed[capture] === condition.value;
    }
    case 'finished':
      return context.passed[asId<StepId>(condition.step)] === 'finished';
    case 'same':
      return offered !== null && context.confirmed[asId<CaptureId>(condition.as)] === offered;
    case 'agrees':
      return isCountSettled(procedure, context, asId<CountId>(condition.count));
    case 'running':
      return asId<TimerId>(condition.timer) in context.running;
    case 'reconciled':
      return context.packsAgree;
  }
}

/** Whether packs are compared with sizes at all: only where a hold point asks for it. */
export function asksForPacks({ holdPoints }: Pick<Lookups, 'holdPoints'>): boolean {
  return [...holdPoints.values()].some(({ needs }) =>
    needs.some(({ type }) => type === 'reconciled'),
  );
}

/**
 * Needs that are asked for at the beginning of a step and not afterwards: a timer stops when
 * its work is done, and a pack that is written off later opens no wound again.
 */
const AT_BEGINNING: ReadonlySet<ConditionSpec['type'] | undefined> = new Set([
  'running',
  'reconciled',
]);

/** Confirmed, and not in doubt since. */
export function isSettled({ confirmed, doubtful }: CaseContext, capture: CaptureId): boolean {
  return capture in confirmed && !(capture in doubtful);
}

function applies(unless: UnlessSpec, context: CaseContext): boolean {
  switch (unless.type) {
    case 'chosen':
      return asId<AlternativeId>(unless.alternative) in context.chosen;
    case 'is':
      return context.confirmed[asId<CaptureId>(unless.capture)] === unless.value;
    case 'skipped':
      return context.passed[asId<StepId>(unless.step)] === 'skipped';
  }
}

/** Whether a hold point lets pass: every condition met, or excused by an override. */
export function isOpen(
  book: Book,
  holdPoint: HoldPoint | undefined,
  context: CaseContext,
  offered: CaptureValue | null = null,
): boolean {
  return !holdPoint || listUnmet(book, holdPoint, context, offered).length === 0;
}

/** The places of the conditions that are neither met nor excused. */
export function listUnmet(
  book: Book,
  holdPoint: HoldPoint,
  context: CaseContext,
  offered: CaptureValue | null = null,
): readonly number[] {
  const excused = context.overridden[holdPoint.id] ?? [];
  return holdPoint.needs.flatMap((condition, index) =>
    excused.includes(index) || isMet(book, condition, context, offered) ? [] : [index],
  );
}

/** Each condition with the text that fits its state. */
export function describeConditions(
  compiled: Lookups,
  holdPoint: HoldPoint,
  context: CaseContext,
  offered: CaptureValue | null = null,
): readonly ConditionState[] {
  return holdPoint.needs.map((condition) => {
    const met = isMet(compiled, condition, context, offered);
    const text = met ? condition.met : condition.missing;
    return { isMet: met, text: fillText(compiled, text, context) };
  });
}

/**
 * Whether a step stands on something that no longer holds: its own hold point, one that
 * guards a size it has taken, or a size that no longer goes with another.
 */
export function isBroken(compiled: Lookups, step: StepId, context: CaseContext): boolean {
  const { steps, holdPointOfStep, holdPointOfCapture } = compiled;
  const captures = steps.get(step)?.captures ?? [];
  const ownPoint = holdPointOfStep.get(step);
  return (
    (!!ownPoint &&
      listUnmet(compiled, ownPoint, context).some(
        (index) => !AT_BEGINNING.has(ownPoint.needs[index]?.type),
      )) ||
    captures.some((capture) => {
      const value = context.confirmed[capture];
      if (value === undefined) return false;
      return (
        !isOpen(compiled, holdPointOfCapture.get(capture), context, value) ||
        isRefused(compiled, context, capture, value)
      );
    })
  );
}
