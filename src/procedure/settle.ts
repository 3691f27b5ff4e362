/**
 * What follows of its own accord once facts have been added. At once, after each fact:
 * named times, timers, and the doubt about what was chosen by a size that changed.
 * Then, until nothing more follows, two rules:
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
import { finishing, isReadyToFinish } from './finishing';
import { followersOf } from './followers';
import { reopening } from './reopening';
import { applyFact, contextOf, isAccepted, isClosed, positionOf } from './state';
import type { CaseState } from './state';

/** A fact and whether the wall added it of its own accord. */
export interface DecidedFact {
  readonly fact: Fact;
  readonly isConsequence: boolean;
}

export interface CarriedOut {
  readonly facts: readonly DecidedFact[];
  /** The state after all of them. */
  readonly state: CaseState;
}

/** The facts asked for and all that follow, in order. Throws where the machine does not take one that was asked for. */
export function carryOut(
  compiled: CompiledProcedure,
  start: CaseState,
  asked: readonly Fact[],
): CarriedOut {
  const decided: DecidedFact[] = [];
  let state = start;
  const add = (fact: Fact, isConsequence: boolean) => {
    const before = state;
    state = applyFact(compiled, state, fact);
    decided.push({ fact, isConsequence });
    for (const follower of followersOf(compiled, before, state, fact)) {
      if (isAccepted(state, follower)) add(follower, true);
    }
  };
  for (const fact of asked) {
    if (!isAccepted(state, fact)) throw new Error(`The machine does not take "${fact.type}"`);
    add(fact, false);
  }
  for (;;) {
    const more = nextConsequences(compiled, state);
    if (more.length === 0) return { facts: decided, state };
    for (const fact of more) add(fact, true);
  }
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
    return [...dropped, ...reopening(compiled, state, track, closed.id)];
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
  const data = { track, step: step.id };
  if (position.kind === 'waiting') {
    if (context.passed[step.id] === 'finished') return [{ type: 'step.passed', data }];
    return step.begins === 'itself' ? [{ type: 'step.begun', data }] : [];
  }
  // Ticks and counts are confirmed by a person who ends the step; read-backs were confirmed one by one.
  const endsItself = step.captures.length > 0 && step.checklist.length === 0 && step.count === null;
  return endsItself && isReadyToFinish(compiled, step.id, context) ? finishing(step, context) : [];
}
