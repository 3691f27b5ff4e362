/**
 * What follows of its own accord once facts have been added. Two rules:
 * 1. A hold point that closed again (a size was reopened) stops the step it guards:
 *    one in hand is held, one already passed is reopened.
 * 2. A step whose captures are all confirmed is finished; the next one begins,
 *    unless a hold point or its own words are waited for.
 * It ends because rule 1 only removes passed steps and rule 2 only adds them.
 */
import type { Fact, TrackId } from '../domain';
import type { CompiledProcedure } from './compile';
import { isBroken } from './conditions';
import type { CaseContext } from './context';
import type { Step } from './expand';
import { applyFact, contextOf, isAccepted, isClosed, positionOf } from './state';
import type { CaseState } from './state';

/** The facts that follow, in order. */
export function settle(compiled: CompiledProcedure, start: CaseState): readonly Fact[] {
  const facts: Fact[] = [];
  let state = start;
  for (;;) {
    const more = nextConsequences(compiled, state);
    if (more.length === 0) return facts;
    for (const fact of more) {
      facts.push(fact);
      state = applyFact(compiled, state, fact);
    }
  }
}

/** The facts that end a step: that it is finished and, where it loops back, that too. */
export function finishing(step: Step, context: CaseContext): readonly Fact[] {
  const { loop, track, id } = step;
  const finished: Fact = { type: 'step.finished', data: { track, step: id } };
  return loop && context.confirmed[loop.capture] === loop.is
    ? [finished, { type: 'loop.repeated', data: { loop: loop.id, from: id, to: loop.backTo } }]
    : [finished];
}

function nextConsequences(compiled: CompiledProcedure, state: CaseState): readonly Fact[] {
  if (isClosed(state)) return [];
  for (const rule of [retreat, advance]) {
    for (const track of compiled.tracks) {
      const facts = rule(compiled, state, track);
      const [first] = facts;
      if (first && isAccepted(state, first)) return facts;
    }
  }
  return [];
}

function retreat(compiled: CompiledProcedure, state: CaseState, track: TrackId): readonly Fact[] {
  const context = contextOf(state);
  const position = positionOf(compiled, state, track);
  const closed = (compiled.stepsOfTrack.get(track) ?? []).find(({ id }) => {
    const isBehind = context.passed[id] === 'finished';
    const isInHand = position.kind === 'doing' && position.step.id === id;
    return (isBehind || isInHand) && isBroken(compiled, id, context);
  });
  if (!closed) return [];
  const dropped = withdrawing(compiled, context, track);
  if (context.passed[closed.id] === 'finished') {
    const from = position.kind === 'done' ? null : position.step.id;
    return [...dropped, { type: 'step.reopened', data: { track, from, to: closed.id } }];
  }
  const holdPoint =
    compiled.holdPointOfStep.get(closed.id) ??
    closed.captures.map((id) => compiled.holdPointOfCapture.get(id)).find((point) => point);
  return holdPoint
    ? [...dropped, { type: 'step.held', data: { track, step: closed.id, holdPoint: holdPoint.id } }]
    : [];
}

/** The read-back of a track that moves back is withdrawn, so that nobody answers it later. */
function withdrawing(
  compiled: CompiledProcedure,
  { offered }: CaseContext,
  track: TrackId,
): readonly Fact[] {
  const steps = compiled.stepsOfTrack.get(track) ?? [];
  return offered && steps.some(({ captures }) => captures.includes(offered.capture))
    ? [{ type: 'capture.withdrawn', data: offered }]
    : [];
}

function advance(compiled: CompiledProcedure, state: CaseState, track: TrackId): readonly Fact[] {
  const context = contextOf(state);
  const position = positionOf(compiled, state, track);
  if (position.kind === 'done') return [];
  const { step } = position;
  if (position.kind === 'waiting') {
    return step.begins === 'itself' ? [{ type: 'step.begun', data: { track, step: step.id } }] : [];
  }
  const isComplete =
    step.captures.length > 0 && step.captures.every((capture) => capture in context.confirmed);
  return isComplete ? finishing(step, context) : [];
}
