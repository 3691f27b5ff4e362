/**
 * Decides what an order means now: the facts that follow from it, or a refusal
 * with its code. Nothing is decided twice: whatever is proposed here must also be
 * taken by the machine, whose guards have the last word.
 */
import { assertNever, ok } from '../domain';
import type { Fact, Order, Result, Source } from '../domain';
import type { CompiledProcedure } from './compile';
import {
  answerCheck,
  addToCount,
  addToTally,
  handOver,
  moveTimer,
  recordCount,
} from './decide-around';
import { answerReadBack, changeCapture, keepCapture, offerCapture } from './decide-captures';
import { answerOverride, requestOverride } from './decide-overrides';
import {
  beginStep, chooseAlternative, finishGroup, finishStep, goBack, leaveOut, reportAhead, skipStep,
} from './decide-steps'; // prettier-ignore
import { dropReadBack, refuse } from './moment';
import type { Facts, LastMove, Moment, Refusal } from './moment';
import { carryOut } from './settle';
import type { CarriedOut, DecidedFact } from './settle';
import { contextOf, isClosed, toRestorable } from './state';
import type { CaseState } from './state';

/** The facts that an order leads to, its consequences included; or why it is refused. */
export function decide(
  compiled: CompiledProcedure,
  state: CaseState,
  order: Order,
  source: Source,
  lastMove: LastMove | null = null,
): Result<readonly DecidedFact[], Refusal> {
  const decided = decideWithState(compiled, state, order, source, lastMove);
  return decided.ok ? ok(decided.value.facts) : decided;
}

/** The same, with the state that the facts lead to. */
export function decideWithState(
  compiled: CompiledProcedure,
  state: CaseState,
  order: Order,
  source: Source,
  lastMove: LastMove | null = null,
): Result<CarriedOut, Refusal> {
  if (isClosed(state)) return refuse('case-closed');
  const moment: Moment = { compiled, state, context: contextOf(state), source, lastMove };
  const asked = blockedByHeldClock(moment, order) ?? decideAsked(moment, order);
  return asked.ok ? ok(carryOut(compiled, state, asked.value)) : asked;
}

/** The facts that hold from the start: the first steps that nothing holds back. */
export function decideOpening(compiled: CompiledProcedure, state: CaseState): readonly Fact[] {
  return carryOut(compiled, state, []).facts.map(({ fact }) => fact);
}

/** While the clock is held, nothing moves; sizes, questions and the way out still work. */
function blockedByHeldClock({ context }: Moment, { type }: Order): Facts | null {
  const moves = [
    'step.begin', 'step.finish', 'step.goBack', 'step.skip', 'step.leaveOut', 'step.reportAhead', 'group.finish',
    'alternative.choose', 'order.undo',
  ]; // prettier-ignore
  return context.isClockHeld && moves.includes(type) ? refuse('clock-held', { order: type }) : null;
}

function askQuestion(
  { compiled }: Moment,
  { question, capture }: Extract<Order, { type: 'question.ask' }>,
): Facts {
  if (question !== 'size') return ok([{ type: 'question.asked', data: { question } }]);
  return capture !== undefined && compiled.captures.has(capture)
    ? ok([{ type: 'question.asked', data: { question, capture } }])
    : refuse('unknown-name', { name: capture ?? '' });
}

function decideAsked(moment: Moment, order: Order): Facts {
  switch (order.type) {
    case 'step.begin':
      return beginStep(moment, order.step);
    case 'step.finish':
      return finishStep(moment, order.track);
    case 'step.goBack':
      return goBack(moment, order.track);
    case 'step.skip':
      return skipStep(moment, order.track, order.reason);
    case 'step.leaveOut':
      return leaveOut(moment, order.step);
    case 'step.reportAhead':
      return reportAhead(moment, order.step);
    case 'group.finish':
      return finishGroup(moment, order.group);
    case 'alternative.choose':
      return chooseAlternative(moment, order.alternative);
    case 'capture.offer':
      return offerCapture(moment, order.capture, order.value);
    case 'capture.confirm':
    case 'capture.withdraw':
    case 'capture.lapse':
      return answerReadBack(moment, order.type);
    case 'capture.change':
      return changeCapture(moment, order.capture);
    case 'capture.keep':
      return keepCapture(moment);
    case 'check.answer':
      return answerCheck(moment, order);
    case 'count.record':
      return recordCount(moment, order);
    case 'count.add':
      return addToCount(moment, order);
    case 'tally.add':
      return addToTally(moment, order);
    case 'timer.start':
    case 'timer.stop':
    case 'timer.answer':
    case 'timer.remind':
      return moveTimer(moment, order);
    case 'role.handOver':
      return handOver(moment, order);
    case 'clock.hold':
    case 'clock.resume':
      return moveClock(moment, order);
    case 'override.request':
      return requestOverride(moment, order.holdPoint, order.reason);
    case 'override.confirm':
    case 'override.withdraw':
      return answerOverride(moment, order.type);
    case 'order.undo':
      return undo(moment);
    case 'question.ask':
      return askQuestion(moment, order);
    case 'announcer.mute':
      return ok([{ type: 'announcer.muted', data: {} }]);
    case 'announcer.unmute':
      return ok([{ type: 'announcer.unmuted', data: {} }]);
    case 'milestone.mark':
      return ok([{ type: 'milestone.reached', data: { milestone: order.milestone } }]);
    case 'case.close': {
      const { outcome, reason } = order;
      const data = reason === undefined ? { outcome } : { outcome, reason };
      return ok([...dropReadBack(moment), { type: 'case.closed', data }]);
    }
    default:
      return assertNever(order);
  }
}

function moveClock(
  { context }: Moment,
  order: Extract<Order, { type: 'clock.hold' | 'clock.resume' }>,
): Facts {
  if (order.type === 'clock.hold') {
    return context.isClockHeld
      ? refuse('clock-already-held')
      : ok([{ type: 'clock.held', data: { reason: order.reason } }]);
  }
  return context.isClockHeld ? ok([{ type: 'clock.resumed', data: {} }]) : refuse('clock-not-held');
}

/** Puts the case back to where it stood before its last order. What was recorded stays recorded. */
function undo({ lastMove }: Moment): Facts {
  if (!lastMove) return refuse('nothing-to-undo');
  const { before, order, since } = lastMove;
  return ok([{ type: 'order.undone', data: { order, since, restores: toRestorable(before) } }]);
}
