/**
 * The last order that moved the case, found from the entries alone: the entries of one
 * order carry one stamp. It can be taken back until the next one; taking back can't.
 */
import type { Entry, FactType, OrderType, Stamp } from '../domain';
import type { CaseState, LastMove } from '../procedure';

/** What each fact was ordered by. Facts that are not here move nothing that could be taken back. */
const ORDERED_BY: Partial<Record<FactType, OrderType>> = {
  'step.begun': 'step.begin',
  'step.finished': 'step.finish',
  'step.reopened': 'step.goBack',
  'step.skipped': 'step.skip',
  'step.leftOut': 'step.leaveOut',
  'step.doneAhead': 'step.reportAhead',
  'group.finished': 'group.finish',
  'alternative.chosen': 'alternative.choose',
  'capture.confirmed': 'capture.confirm',
  'check.answered': 'check.answer',
  'count.recorded': 'count.record',
  'count.added': 'count.add',
  'timer.started': 'timer.start',
  'timer.stopped': 'timer.stop',
  'role.handedOver': 'role.handOver',
  'override.granted': 'override.confirm',
};

/** The order whose entries are coming in, and the last one that could be taken back. */
export interface Moves {
  readonly stamp: Stamp | null;
  /** Where the case stood before the order whose entries are coming in. */
  readonly before: CaseState;
  readonly since: number;
  readonly last: LastMove | null;
  /** How many entries there were when it had been carried out. */
  readonly doneAt: number;
}

/** Before the first entry. */
export function noMoves(start: CaseState): Moves {
  return { stamp: null, before: start, since: 0, last: null, doneAt: 0 };
}

/** After one more entry; `state` is the state before it. */
export function addToMoves(moves: Moves, state: CaseState, entry: Entry): Moves {
  const isSame = moves.stamp !== null && isSameMoment(moves.stamp, entry);
  const batch = isSame
    ? moves
    : {
        ...moves,
        stamp: { at: entry.at, mono: entry.mono, run: entry.run },
        before: state,
        since: entry.seq,
      };
  if (entry.type === 'order.undone') return { ...batch, last: null };
  const order = entry.source === 'wall' ? undefined : ORDERED_BY[entry.type];
  const isOfLast = batch.last?.since === batch.since;
  if (isOfLast) return { ...batch, doneAt: entry.seq + 1 };
  return order
    ? { ...batch, last: { before: batch.before, order, since: batch.since }, doneAt: entry.seq + 1 }
    : batch;
}

function isSameMoment(a: Stamp, b: Stamp): boolean {
  return a.run === b.run && a.mono === b.mono && a.at === b.at;
}
