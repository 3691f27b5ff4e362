/**
 * The named guards of the case machine: pure, total, and in this one place.
 * Each asks only the context, the fact and the procedure.
 */
import type { StepId } from '../domain';
import { isBroken, isOpen } from './conditions';
import type { CaseContext } from './context';
import type { Lookups } from './lookups';
import type { MachineFact } from './machine-facts';
import { isLegalValue } from './values-of';

interface GuardArgs {
  readonly context: CaseContext;
  readonly event: MachineFact;
}
interface StepParams {
  readonly step: StepId;
}

/** Makes the guards for one procedure. */
export function guardsOf(compiled: Lookups) {
  const isOfStep = ({ event }: GuardArgs, { step }: StepParams) =>
    'step' in event.data && event.data.step === step;
  const hasAllCaptures = ({ context }: GuardArgs, { step }: StepParams) =>
    (compiled.steps.get(step)?.captures ?? []).every((capture) => capture in context.confirmed);
  const canMove = ({ context }: GuardArgs) => !context.isClockHeld;
  const mayFinish = (args: GuardArgs, params: StepParams) =>
    isOfStep(args, params) &&
    canMove(args) &&
    !compiled.steps.get(params.step)?.captures.some((id) => id === args.context.offered?.capture) &&
    hasAllCaptures(args, params);

  return {
    isStep: isOfStep,
    /** The hold point itself. */
    mayBegin: (args: GuardArgs, params: StepParams) =>
      isOfStep(args, params) &&
      canMove(args) &&
      isOpen(compiled.holdPointOfStep.get(params.step), args.context),
    mayFinish,
    loopsBack: (args: GuardArgs, params: StepParams) => {
      const loop = compiled.steps.get(params.step)?.loop;
      return !!loop && mayFinish(args, params) && args.context.confirmed[loop.capture] === loop.is;
    },
    /** A hold point that closed again under a step in hand. */
    isHeld: (args: GuardArgs, params: StepParams) =>
      isOfStep(args, params) && isBroken(compiled, params.step, args.context),
    isReopening: ({ context, event }: GuardArgs, { step }: StepParams) =>
      event.type === 'step.reopened' && event.data.to === step && step in context.passed,
    endsGroup: ({ event }: GuardArgs, { step }: StepParams) =>
      event.type === 'group.finished' && event.data.at === step,
    mayOffer: ({ context, event }: GuardArgs, { step }: StepParams) => {
      if (event.type !== 'capture.offered') return false;
      const { capture, value } = event.data;
      const spec = compiled.captures.get(capture);
      return (
        !!spec &&
        (compiled.steps.get(step)?.captures.includes(capture) ?? false) &&
        (context.offered === null || context.offered.capture === capture) &&
        isLegalValue(spec, value) &&
        isOpen(compiled.holdPointOfCapture.get(capture), context, value)
      );
    },
    isOffered: ({ context, event }: GuardArgs, { step }: StepParams) =>
      event.type === 'capture.confirmed' &&
      (compiled.steps.get(step)?.captures.includes(event.data.capture) ?? false) &&
      context.offered?.capture === event.data.capture &&
      context.offered.value === event.data.value &&
      isOpen(compiled.holdPointOfCapture.get(event.data.capture), context, event.data.value),
    hasOffer: ({ context, event }: GuardArgs) =>
      'capture' in event.data && context.offered?.capture === event.data.capture,
    clockRuns: ({ context }: GuardArgs) => !context.isClockHeld,
    clockIsHeld: ({ context }: GuardArgs) => context.isClockHeld,
    mayAskOverride: ({ event }: GuardArgs) =>
      event.type === 'override.requested' && compiled.holdPoints.has(event.data.holdPoint),
    isOverrideAsked: ({ context, event }: GuardArgs) =>
      'holdPoint' in event.data && context.overrideAsked?.holdPoint === event.data.holdPoint,
  };
}
