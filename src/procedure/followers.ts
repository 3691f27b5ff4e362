/**
 * What one fact brings with it at once: the named time that it is, the timers that it
 * starts or stops, and the doubt about everything that was chosen by a value that it
 * changes.
 */
import { assertNever, asId } from '../domain';
import type { Fact, TimerId } from '../domain';
import type { CompiledProcedure } from './compile';
import type { TimerEventSpec } from './format';
import { listRelying } from './reliance';
import { contextOf } from './state';
import type { CaseState } from './state';

/** The facts that follow from one fact, given the states before and after it. */
export function followersOf(
  compiled: CompiledProcedure,
  before: CaseState,
  after: CaseState,
  fact: Fact,
): readonly Fact[] {
  return [
    ...namedTimes(compiled, fact),
    ...timers(compiled, after, fact),
    ...doubts(compiled, before, after, fact),
  ];
}

function namedTimes({ steps }: CompiledProcedure, fact: Fact): readonly Fact[] {
  if (fact.type !== 'step.begun' && fact.type !== 'step.finished') return [];
  const step = steps.get(fact.data.step);
  const milestone = fact.type === 'step.begun' ? step?.begunMarks : step?.finishedMarks;
  return milestone ? [{ type: 'milestone.reached', data: { milestone } }] : [];
}

function timers({ procedure }: CompiledProcedure, after: CaseState, fact: Fact): readonly Fact[] {
  const { running } = contextOf(after);
  return procedure.timers.flatMap(({ id, starts, stops }): Fact[] => {
    const timer = asId<TimerId>(id);
    const isRunning = timer in running;
    if (isRunning && stops && isEvent(stops, fact))
      return [{ type: 'timer.stopped', data: { timer } }];
    if (!isRunning && starts && isEvent(starts, fact))
      return [{ type: 'timer.started', data: { timer } }];
    return [];
  });
}

function isEvent(event: TimerEventSpec, fact: Fact): boolean {
  switch (event.type) {
    case 'begun':
      return fact.type === 'step.begun' && fact.data.step === event.step;
    case 'finished':
      return fact.type === 'step.finished' && fact.data.step === event.step;
    case 'confirmed':
      return fact.type === 'capture.confirmed' && fact.data.capture === event.capture;
    case 'named-time':
      return fact.type === 'milestone.reached' && fact.data.milestone === event.milestone;
    default:
      return assertNever(event);
  }
}

/** A value that is confirmed with another one than before puts what was chosen by it in doubt. */
function doubts(
  { reliers }: CompiledProcedure,
  before: CaseState,
  after: CaseState,
  fact: Fact,
): readonly Fact[] {
  if (fact.type !== 'capture.confirmed') return [];
  const { capture, value } = fact.data;
  if (contextOf(before).confirmed[capture] === value) return [];
  const { confirmed, doubtful } = contextOf(after);
  const captures = listRelying(reliers, capture).filter(
    (id) => id in confirmed && !(id in doubtful),
  );
  return captures.length > 0
    ? [{ type: 'capture.doubted', data: { captures, because: capture } }]
    : [];
}
