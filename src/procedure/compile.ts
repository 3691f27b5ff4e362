/**
 * Compiles a checked procedure into the XState machine of its case. Tracks become
 * parallel regions; each step becomes two states, waiting for it and doing it.
 * Events are the facts of the record; guards are the hold points, by name. The
 * machine holds no timers, promises or clock readings, and its context holds no
 * times and no growing lists: the same facts always give the same state.
 */
import { setup } from 'xstate';
import type { Outline, PhaseId, StepId, TrackId } from '../domain';
import { asId } from '../domain';
import { changes } from './changes';
import type { CaseContext } from './context';
import { emptyContext } from './context';
import { expandProcedure } from './expand';
import type { Step } from './expand';
import type { Procedure } from './format';
import { guardsOf } from './guards';
import type { Lookups } from './lookups';
import type { MachineFact } from './machine-facts';

/** A procedure ready to run: its machine and everything that can be looked up in it. */
export interface CompiledProcedure extends Lookups {
  readonly machine: CaseMachine;
}

export type CaseMachine = ReturnType<typeof createCaseMachine>;

/** Names of the two states of a step inside its track's region. */
export const waitingState = (step: StepId): string => `wait:${step}`;
export const doingState = (step: StepId): string => `do:${step}`;
export const DONE_STATE = 'done';

/** Compiles a procedure that has passed the checks of check.ts. */
export function compileProcedure(procedure: Procedure): CompiledProcedure {
  const { steps, captures, holdPoints } = expandProcedure(procedure);
  const stepsOfTrack = new Map<TrackId, Step[]>();
  for (const { id } of procedure.tracks) stepsOfTrack.set(asId(id), []);
  for (const step of steps) stepsOfTrack.get(step.track)?.push(step);
  const lookups = {
    procedure,
    outline: toOutline(procedure, steps),
    tracks: [...stepsOfTrack.keys()],
    steps: new Map(steps.map((step) => [step.id, step])),
    stepsOfTrack,
    captures: new Map(captures.map((capture) => [capture.id, capture])),
    holdPoints: new Map(holdPoints.map((holdPoint) => [holdPoint.id, holdPoint])),
    holdPointOfStep: new Map(
      holdPoints.flatMap((point) =>
        point.guards.type === 'step' ? [[point.guards.step, point]] : [],
      ),
    ),
    holdPointOfCapture: new Map(
      holdPoints.flatMap((point) =>
        point.guards.type === 'capture' ? [[point.guards.capture, point]] : [],
      ),
    ),
  };
  return { ...lookups, machine: createCaseMachine(lookups) };
}

function createCaseMachine(compiled: Lookups) {
  const base = setup({
    types: { context: {} as CaseContext, events: {} as MachineFact },
    guards: guardsOf(compiled),
  });
  const change = changes(compiled);
  const regions = Object.fromEntries(
    compiled.tracks.map((track) => [track, region(compiled.stepsOfTrack.get(track) ?? [])]),
  );

  function region(steps: readonly Step[]) {
    const first = steps[0];
    if (!first) throw new Error('A track without steps passed the checks');
    return {
      initial: waitingState(first.id),
      states: {
        ...Object.fromEntries(steps.flatMap((step) => [waiting(step), doing(step)])),
        [DONE_STATE]: {},
      },
      on: {
        'step.reopened': steps.map((step) => ({
          guard: { type: 'isReopening' as const, params: { step: step.id } },
          target: `.${waitingState(step.id)}`,
          actions: base.assign(change.reopen),
        })),
      },
    };
  }

  function waiting(step: Step): [string, object] {
    return [
      waitingState(step.id),
      {
        on: {
          'step.begun': {
            guard: { type: 'mayBegin', params: { step: step.id } },
            target: doingState(step.id),
            actions: base.assign(change.begin),
          },
          ...leaving(step),
        },
      },
    ];
  }

  function doing(step: Step): [string, object] {
    const params = { step: step.id };
    return [
      doingState(step.id),
      {
        on: {
          'step.finished': [
            ...(step.loop
              ? [
                  {
                    guard: { type: 'loopsBack', params },
                    target: waitingState(step.loop.backTo),
                    actions: base.assign(change.loopBack),
                  },
                ]
              : []),
            {
              guard: { type: 'mayFinish', params },
              target: step.next ? waitingState(step.next) : DONE_STATE,
              actions: base.assign(change.finish),
            },
          ],
          'step.held': { guard: { type: 'isHeld', params }, target: waitingState(step.id) },
          'capture.offered': {
            guard: { type: 'mayOffer', params },
            actions: base.assign(change.offer),
          },
          'capture.confirmed': {
            guard: { type: 'isOffered', params },
            actions: base.assign(change.confirm),
          },
          ...leaving(step),
        },
      },
    ];
  }

  /** Ways past a step without doing it: left out at the desk, or its group ended. */
  function leaving(step: Step) {
    return {
      'step.skipped': {
        guard: { type: 'isStep', params: { step: step.id } },
        target: step.next ? waitingState(step.next) : DONE_STATE,
        actions: base.assign(change.skip),
      },
      ...(step.exit && step.exit.itemsDone >= step.exit.atLeast
        ? {
            'group.finished': {
              guard: { type: 'endsGroup', params: { step: step.id } },
              target: step.exit.next ? waitingState(step.exit.next) : DONE_STATE,
            },
          }
        : {}),
    };
  }

  return base.createMachine({
    id: compiled.procedure.id,
    context: emptyContext(),
    initial: 'running',
    states: {
      running: {
        type: 'parallel',
        states: regions,
        on: {
          'capture.withdrawn': { guard: 'hasOffer', actions: base.assign(change.dropOffer) },
          'capture.lapsed': { guard: 'hasOffer', actions: base.assign(change.dropOffer) },
          'clock.held': { guard: 'clockRuns', actions: base.assign(change.holdClock) },
          'clock.resumed': { guard: 'clockIsHeld', actions: base.assign(change.resumeClock) },
          'override.requested': {
            guard: 'mayAskOverride',
            actions: base.assign(change.askOverride),
          },
          'override.granted': {
            guard: 'isOverrideAsked',
            actions: base.assign(change.grantOverride),
          },
          'override.withdrawn': {
            guard: 'isOverrideAsked',
            actions: base.assign(change.dropOverride),
          },
          'announcer.muted': { actions: base.assign(change.mute) },
          'announcer.unmuted': { actions: base.assign(change.unmute) },
          'case.closed': 'closed',
        },
      },
      closed: { type: 'final' },
    },
  });
}

function toOutline(procedure: Procedure, steps: readonly Step[]): Outline {
  return {
    title: procedure.title,
    tracks: procedure.tracks.map(({ id, title }) => ({ id: asId<TrackId>(id), title })),
    phases: procedure.tracks.flatMap((track) =>
      track.phases.map((phase) => ({
        id: asId<PhaseId>(phase.id),
        track: asId<TrackId>(track.id),
        title: phase.title,
        isQuiet: phase.quiet,
        usualMin: phase.usualMin ?? null,
        steps: steps
          .filter((step) => step.phase === phase.id && step.track === track.id)
          .map(({ id, title, short }) => ({ id, title, short })),
      })),
    ),
  };
}
