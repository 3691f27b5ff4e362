/**
 * The facts that move a case. The others (questions, refusals, named times, tallies,
 * reminders) are kept in the record but change nothing here.
 */
import type { Fact, FactOf } from '../domain';

const MOVING = [
  'step.begun', 'step.finished', 'step.held', 'step.reopened', 'step.skipped', 'step.leftOut', 'step.doneAhead',
  'step.passed', 'group.finished', 'alternative.chosen', 'track.moved',
  'capture.offered', 'capture.confirmed', 'capture.withdrawn', 'capture.lapsed', 'capture.questioned',
  'capture.reopened', 'capture.kept', 'capture.doubted',
  'check.answered', 'count.recorded', 'count.added', 'role.handedOver', 'timer.started', 'timer.stopped',
  'clock.held', 'clock.resumed', 'override.requested', 'override.granted', 'override.withdrawn',
  'packs.compared', 'announcer.muted', 'announcer.unmuted', 'order.undone', 'case.closed',
] as const; // prettier-ignore

export type MachineFact = FactOf<(typeof MOVING)[number]>;

const movingTypes: ReadonlySet<string> = new Set(MOVING);

/** Whether a fact moves the machine. */
export function isMachineFact(fact: Fact): fact is MachineFact {
  return movingTypes.has(fact.type);
}
