/**
 * The state of a case between two facts: where each track stands and what is
 * settled. A thin face over the XState snapshot, so that nothing else in the
 * program needs to know how the machine is built.
 */
import { createActor, initialTransition } from 'xstate';
import type { AnyActorScope, SnapshotFrom } from 'xstate';
import type { Entry, Fact, RestoredState, Result, StepId, TrackId } from '../domain';
import { err, ok } from '../domain';
import { DONE_STATE } from './case-machine';
import type { CaseMachine } from './case-machine';
import type { CompiledProcedure } from './compile';
import type { CaseContext } from './context';
import type { Step } from './expanded';
import { isMachineFact } from './machine-facts';
import type { MachineFact } from './machine-facts';

export type CaseState = SnapshotFrom<CaseMachine>;

/** Where one track stands. */
export type Position =
  | { readonly kind: 'waiting'; readonly step: Step }
  | { readonly kind: 'doing'; readonly step: Step }
  | { readonly kind: 'done' };

/** The state before the first fact. */
export function initialState({ machine }: CompiledProcedure): CaseState {
  return initialTransition(machine)[0];
}

/** Whether the machine takes this fact now. Facts that move nothing are always taken. */
export function isAccepted(state: CaseState, fact: Fact): boolean {
  return !isMachineFact(fact) || state.can(fact);
}

/** The state after a fact that is accepted. */
export function applyFact(compiled: CompiledProcedure, state: CaseState, fact: Fact): CaseState {
  return isMachineFact(fact) ? step(compiled, state, fact) : state;
}

/** Replays entries; the error is the first entry that this procedure can't take. */
export function replay(
  compiled: CompiledProcedure,
  entries: readonly Entry[],
): Result<CaseState, Entry> {
  let state = initialState(compiled);
  for (const entry of entries) {
    if (!isAccepted(state, entry)) return err(entry);
    state = applyFact(compiled, state, entry);
  }
  return ok(state);
}

/** The context: sizes, the open read-back, what was passed. */
export function contextOf(state: CaseState): CaseContext {
  return state.context;
}

/** Whether the case has been closed. */
export function isClosed(state: CaseState): boolean {
  return state.status === 'done';
}

/** The name of the state that each track is in; none in a closed case. */
export function positionsOf(state: CaseState): Readonly<Record<string, string>> {
  const value = state.value as unknown;
  return typeof value === 'object' && value !== null && 'running' in value
    ? (value.running as Readonly<Record<string, string>>)
    : {};
}

/** The state as plain data, for the fact that takes an order back. */
export function toRestorable(state: CaseState): RestoredState {
  return { positions: positionsOf(state), context: state.context };
}

/** The state that `toRestorable` made data of. Throws where the machine has no such positions. */
export function restoreState(
  { machine }: CompiledProcedure,
  { positions, context }: RestoredState,
): CaseState {
  return machine.resolveState({ value: { running: positions }, context: context as CaseContext });
}

/** Where a track stands; a closed case is done everywhere. */
export function positionOf(
  compiled: CompiledProcedure,
  state: CaseState,
  track: TrackId,
): Position {
  const region = positionsOf(state)[track] ?? DONE_STATE;
  if (region === DONE_STATE) return { kind: 'done' };
  const [verb = '', id = ''] = region.split(/:(.*)/s);
  const found = compiled.steps.get(id as StepId);
  if (!found) throw new Error(`The machine stands at "${region}", which is no step`);
  return { kind: verb === 'do' ? 'doing' : 'waiting', step: found };
}

function step({ machine }: CompiledProcedure, state: CaseState, fact: MachineFact): CaseState {
  // The bare fact: an entry's times must not reach the machine.
  const event = { type: fact.type, data: fact.data } as MachineFact;
  return machine.transition(state, event, scopeOf(machine));
}

const scopes = new WeakMap<CaseMachine, AnyActorScope>();

/**
 * What XState wants to know around a transition. Its own `transition` makes this anew,
 * and with it an actor in its first state, for every single fact: half of the time of a
 * replay. A machine of assignments alone reads nothing of it, so one serves for all.
 */
function scopeOf(machine: CaseMachine): AnyActorScope {
  const known = scopes.get(machine);
  if (known) return known;
  const nothing = () => undefined;
  const self = createActor(machine);
  const scope: AnyActorScope = {
    self,
    system: self.system,
    id: '',
    sessionId: '',
    logger: nothing,
    defer: nothing,
    emit: nothing,
    stopChild: nothing,
    actionExecutor: nothing,
  };
  scopes.set(machine, scope);
  return scope;
}
