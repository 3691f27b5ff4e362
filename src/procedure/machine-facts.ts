/**
 * The facts that move a case. The others (questions, refusals, named times) are
 * kept in the record but change nothing here.
 */
import type { Fact, FactOf } from '../domain';

const MOVING = [
  'step.begun', 'step.finished', 'step.held', 'step.reopened', 'step.skipped', 'group.finished',
  'capture.offered', 'capture.confirmed', 'capture.withdrawn', 'capture.lapsed',
  'clock.held', 'clock.resumed', 'override.requested', 'override.granted', 'override.withdrawn',
  'announcer.muted', 'announcer.unmuted', 'case.closed',
] as const; // prettier-ignore

export type MachineFact = FactOf<(typeof MOVING)[number]>;

const movingTypes: ReadonlySet<string> = new Set(MOVING);

/** Whether a fact moves the machine. */
export function isMachineFact(fact: Fact): fact is MachineFact {
  return movingTypes.has(fact.type);
}
