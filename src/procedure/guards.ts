/**
 * The named guards of the case machine: pure, total, and in this one place.
 * Each asks only the context, the fact and the procedure.
 */
import type { CaptureId, CaptureValue, StepId } from '../domain';
import { isBroken, isOpen, isSettled } from './conditions';
import { isRefused, listBroken } from './constraints';
import type { CaseContext } from './context';
import { expectedOf, isCountable } from './counts';
import { isReadyToFinish } from './finishing';
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
interface MoveParams {
  readonly track: string;
  readonly step: StepId | null;
}
interface PositionParams {
  readonly track: string;
  readonly position: string;
}

/** Makes the guards for one procedure. */
export function guardsOf(compiled: Lookups) {
  return { ...stepGuards(compiled), ...captureGuards(compiled), ...caseGuards(compiled) };
}

function stepGuards(compiled: Lookups) {
  const isOfStep = ({ event }: GuardArgs, { step }: StepParams) =>
    'step' in event.data && event.data.step === step;
  const canMove = ({ context }: GuardArgs) => !context.isClockHeld;
  const mayFinish = (args: GuardArgs, params: StepParams) =>
    isOfStep(args, params) && canMove(args) && isReadyToFinish(compiled, params.step, args.context);

  return {
    isStep: isOfStep,
    /** The hold point itself. */
    mayBegin: (args: GuardArgs, params: StepParams) =>
      isOfStep(args, params) &&
      canMove(args) &&
      isOpen(compiled, compiled.holdPointOfStep.get(params.step), args.context),
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
    mayLeaveOut: (args: GuardArgs, params: StepParams) =>
      isOfStep(args, params) && canMove(args) && !!compiled.steps.get(params.step)?.optional,
    wasDoneAhead: (args: GuardArgs, params: StepParams) =>
      isOfStep(args, params) && args.context.passed[params.step] === 'finished',
    mayDoAhead: ({ context, event }: GuardArgs) =>
      event.type === 'step.doneAhead' &&
      !!compiled.steps.get(event.data.step)?.ahead &&
      !(event.data.step in context.passed) &&
      !context.isClockHeld,
    endsGroup: ({ event }: GuardArgs, { step }: StepParams) =>
      event.type === 'group.finished' && event.data.at === step,
    mayChoose: ({ context, event }: GuardArgs, { step }: StepParams) =>
      event.type === 'alternative.chosen' &&
      event.data.at === step &&
      !context.isClockHeld &&
      !(event.data.alternative in context.chosen) &&
      (compiled.alternatives.get(event.data.alternative)?.at.includes(step) ?? false),
    /** To this step, or to the end of the track where `step` is null. */
    isMovedTo: ({ context, event }: GuardArgs, { track, step }: MoveParams) =>
      event.type === 'track.moved' &&
      event.data.track === track &&
      event.data.to === step &&
      event.data.alternative in context.chosen,
  };
}

function captureGuards(compiled: Lookups) {
  const canTake = (context: CaseContext, capture: CaptureId, value: CaptureValue) => {
    const spec = compiled.captures.get(capture);
    return (
      !!spec &&
      isLegalValue(spec, value) &&
      isOpen(compiled, compiled.holdPointOfCapture.get(capture), context, value) &&
      !isRefused(compiled, context, capture, value)
    );
  };
  const takes = (step: StepId, capture: CaptureId) =>
    compiled.steps.get(step)?.captures.includes(capture) ?? false;
  const mayOffer = ({ context, event }: GuardArgs) =>
    event.type === 'capture.offered' &&
    (context.offered === null || context.offered.capture === event.data.capture) &&
    canTake(context, event.data.capture, event.data.value);
  const isOffered = ({ context, event }: GuardArgs) =>
    event.type === 'capture.confirmed' &&
    context.offered?.capture === event.data.capture &&
    context.offered.value === event.data.value &&
    canTake(context, event.data.capture, event.data.value) &&
    (context.isQuestioned ||
      listBroken(compiled, context, event.data.capture, event.data.value).length === 0);
  const isChanging = ({ context, event }: GuardArgs) =>
    'capture' in event.data &&
    (event.data.capture === context.changing || event.data.capture in context.doubtful);

  return {
    mayOffer: (args: GuardArgs, { step }: StepParams) =>
      'capture' in args.event.data && takes(step, args.event.data.capture) && mayOffer(args),
    isOffered: (args: GuardArgs, { step }: StepParams) =>
      'capture' in args.event.data && takes(step, args.event.data.capture) && isOffered(args),
    /** A settled value that is said anew, wherever the tracks stand. */
    mayOfferAgain: (args: GuardArgs) => isChanging(args) && mayOffer(args),
    isOfferedAgain: (args: GuardArgs) => isChanging(args) && isOffered(args),
    hasOffer: ({ context, event }: GuardArgs) =>
      'capture' in event.data && context.offered?.capture === event.data.capture,
    mayQuestion: ({ context, event }: GuardArgs) =>
      event.type === 'capture.questioned' &&
      !context.isQuestioned &&
      context.offered?.capture === event.data.capture &&
      context.offered.value === event.data.value,
    mayChange: ({ context, event }: GuardArgs) =>
      event.type === 'capture.reopened' && isSettled(context, event.data.capture),
    isChanged: ({ context, event }: GuardArgs) =>
      event.type === 'capture.kept' && context.changing === event.data.capture,
    areConfirmed: ({ context, event }: GuardArgs) =>
      event.type === 'capture.doubted' &&
      event.data.captures.every((capture) => capture in context.confirmed),
  };
}

function caseGuards(compiled: Lookups) {
  const { procedure } = compiled;
  const isTimer = (id: string) => procedure.timers.some((timer) => timer.id === id);
  return {
    asksItem: ({ event }: GuardArgs, { step }: StepParams) =>
      event.type === 'check.answered' &&
      event.data.step === step &&
      (compiled.steps.get(step)?.checklist.some(({ id }) => id === event.data.item) ?? false),
    mayCount: ({ context, event }: GuardArgs) =>
      event.type === 'count.recorded' &&
      procedure.counts.some(({ id }) => id === event.data.count) &&
      procedure.countItems.some(({ id }) => id === event.data.item) &&
      isCountable(event.data.value) &&
      (event.data.expected === null ||
        event.data.expected === expectedOf(context, event.data.item)),
    mayHandOut: ({ context, event }: GuardArgs) =>
      event.type === 'count.added' &&
      Number.isInteger(event.data.by) &&
      (expectedOf(context, event.data.item) ?? -Infinity) + event.data.by >= 0,
    isRole: ({ event }: GuardArgs) =>
      event.type === 'role.handedOver' && procedure.roles.some(({ id }) => id === event.data.role),
    mayStart: ({ context, event }: GuardArgs) =>
      event.type === 'timer.started' &&
      isTimer(event.data.timer) &&
      !(event.data.timer in context.running),
    isRunning: ({ context, event }: GuardArgs) =>
      'timer' in event.data && event.data.timer in context.running,
    clockRuns: ({ context }: GuardArgs) => !context.isClockHeld,
    clockIsHeld: ({ context }: GuardArgs) => context.isClockHeld,
    mayAskOverride: ({ event }: GuardArgs) =>
      event.type === 'override.requested' && compiled.holdPoints.has(event.data.holdPoint),
    isOverrideAsked: ({ context, event }: GuardArgs) =>
      'holdPoint' in event.data && context.overrideAsked?.holdPoint === event.data.holdPoint,
    restoresTo: ({ event }: GuardArgs, { track, position }: PositionParams) =>
      event.type === 'order.undone' && event.data.restores.positions[track] === position,
  };
}
