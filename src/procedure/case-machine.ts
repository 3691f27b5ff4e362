/**
 * The XState machine of a case. Tracks become parallel regions; each step becomes two
 * states, waiting for it and doing it. Events are the facts of the record; guards are
 * the hold points, by name. The machine holds no timers, promises or clock readings,
 * and its context holds no times and no growing lists: the same facts always give the
 * same state.
 */
import { setup } from 'xstate';
import type { StepId, TrackId } from '../domain';
import { changes } from './changes';
import type { CaseContext } from './context';
import { emptyContext } from './context';
import type { Step } from './expanded';
import { guardsOf } from './guards';
import type { Lookups } from './lookups';
import type { MachineFact } from './machine-facts';

export type CaseMachine = ReturnType<typeof createCaseMachine>;

/** Names of the two states of a step inside its track's region. */
export const waitingState = (step: StepId): string => `wait:${step}`;
export const doingState = (step: StepId): string => `do:${step}`;
export const DONE_STATE = 'done';

/** Makes the machine of a procedure. */
export function createCaseMachine(compiled: Lookups) {
  const base = setup({
    types: { context: {} as CaseContext, events: {} as MachineFact },
    guards: guardsOf(compiled),
  });
  const change = changes(compiled);
  const alternatives = [...compiled.alternatives.values()];
  const regions = Object.fromEntries(compiled.tracks.map((track) => [track, region(track)]));

  function waitingOr(step: StepId | null): string {
    return step ? waitingState(step) : DONE_STATE;
  }

  function region(track: TrackId) {
    const steps = compiled.stepsOfTrack.get(track) ?? [];
    const first = steps.find(({ alternative }) => alternative === null);
    if (!first) throw new Error('A track without steps passed the checks');
    const names = [...steps.flatMap(({ id }) => [waitingState(id), doingState(id)]), DONE_STATE];
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
        'track.moved': [...steps.map(({ id }) => id), null].map((step) => ({
          guard: { type: 'isMovedTo' as const, params: { track, step } },
          target: `.${step ? waitingState(step) : DONE_STATE}`,
          actions: base.assign(change.move),
        })),
        'order.undone': names.map((position) => ({
          guard: { type: 'restoresTo' as const, params: { track, position } },
          target: `.${position}`,
          actions: base.assign(change.restore),
        })),
      },
    };
  }

  function waiting(step: Step): [string, object] {
    const params = { step: step.id };
    return [
      waitingState(step.id),
      {
        on: {
          'step.begun': {
            guard: { type: 'mayBegin', params },
            target: doingState(step.id),
            actions: base.assign(change.begin),
          },
          'step.passed': {
            guard: { type: 'wasDoneAhead', params },
            target: waitingOr(step.next),
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
              target: waitingOr(step.next),
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
          ...(step.checklist.length > 0
            ? {
                'check.answered': {
                  guard: { type: 'asksItem', params },
                  actions: base.assign(change.answer),
                },
              }
            : {}),
          ...leaving(step),
        },
      },
    ];
  }

  /** Ways past a step without doing it: left out, its group ended, or another way chosen. */
  function leaving(step: Step) {
    const params = { step: step.id };
    const target = waitingOr(step.next);
    return {
      'step.skipped': {
        guard: { type: 'isStep', params },
        target,
        actions: base.assign(change.skip),
      },
      ...(step.optional
        ? {
            'step.leftOut': {
              guard: { type: 'mayLeaveOut', params },
              target,
              actions: base.assign(change.leaveOut),
            },
          }
        : {}),
      ...(step.exit && step.exit.itemsDone >= step.exit.atLeast
        ? {
            'group.finished': {
              guard: { type: 'endsGroup', params },
              target: waitingOr(step.exit.next),
            },
          }
        : {}),
      ...(alternatives.some(({ at }) => at.includes(step.id))
        ? {
            'alternative.chosen': {
              guard: { type: 'mayChoose', params },
              actions: base.assign(change.choose),
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
          'step.doneAhead': { guard: 'mayDoAhead', actions: base.assign(change.doAhead) },
          // Of a settled size that is changed or in doubt; a step in hand takes its own first.
          'capture.offered': { guard: 'mayOfferAgain', actions: base.assign(change.offer) },
          'capture.confirmed': { guard: 'isOfferedAgain', actions: base.assign(change.confirm) },
          'capture.withdrawn': { guard: 'hasOffer', actions: base.assign(change.dropOffer) },
          'capture.lapsed': { guard: 'hasOffer', actions: base.assign(change.dropOffer) },
          'capture.questioned': { guard: 'mayQuestion', actions: base.assign(change.question) },
          'capture.reopened': { guard: 'mayChange', actions: base.assign(change.change) },
          'capture.kept': { guard: 'isChanged', actions: base.assign(change.keep) },
          'capture.doubted': { guard: 'areConfirmed', actions: base.assign(change.doubt) },
          'count.recorded': { guard: 'mayCount', actions: base.assign(change.count) },
          'count.added': { guard: 'mayHandOut', actions: base.assign(change.handOut) },
          'role.handedOver': { guard: 'isRole', actions: base.assign(change.handOver) },
          'timer.started': { guard: 'mayStart', actions: base.assign(change.startTimer) },
          'timer.stopped': { guard: 'isRunning', actions: base.assign(change.stopTimer) },
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
          'packs.compared': { actions: base.assign(change.comparePacks) },
          'announcer.muted': { actions: base.assign(change.mute) },
          'announcer.unmuted': { actions: base.assign(change.unmute) },
          'case.closed': 'closed',
        },
      },
      closed: { type: 'final' },
    },
  });
}
