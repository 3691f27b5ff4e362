/** Orders about what surrounds the steps: checklists, counts, tallies, timers and roles. */
import { asId, ok } from '../domain';
import type { CountId, Fact, Order, OrderType } from '../domain';
import { countSpecOf, expectedOf, isCountable, listOpenCounts } from './counts';
import { refuse } from './moment';
import type { Facts, Moment } from './moment';
import { positionOf } from './state';

type OrderOf<T extends OrderType> = Extract<Order, { readonly type: T }>;

/** The longest label of a role that the screens can show. */
const MOST_LABEL_CHARS = 30;

/** Answers one line of the checklist of a step in hand. */
export function answerCheck({ compiled, state }: Moment, order: OrderOf<'check.answer'>): Facts {
  const { step: id, item, answer } = order;
  const step = compiled.steps.get(id);
  const position = step && positionOf(compiled, state, step.track);
  const isInHand = position?.kind === 'doing' && position.step.id === id;
  return isInHand && step?.checklist.some((line) => line.id === item)
    ? ok([{ type: 'check.answered', data: { step: id, item, answer } }])
    : refuse('check-not-open', { step: id, item });
}

/** The counts whose step is in hand or behind. */
export function listCountsReached({
  compiled,
  context,
  state,
}: Omit<Moment, 'source' | 'lastMove'>): readonly CountId[] {
  return [...compiled.steps.values()].flatMap(({ id, count, track }) => {
    if (count === null) return [];
    const position = positionOf(compiled, state, track);
    const isInHand = position.kind === 'doing' && position.step.id === id;
    return isInHand || context.passed[id] === 'finished' ? [count] : [];
  });
}

/** Records how many of an item were counted. The first count sets what the others must agree with. */
export function recordCount(moment: Moment, order: OrderOf<'count.record'>): Facts {
  const { compiled, context } = moment;
  const { count, item, value } = order;
  const spec = countSpecOf(compiled.procedure, count);
  const line = compiled.procedure.countItems.find(({ id }) => id === item);
  const isReached = listOpenCounts(compiled.procedure, context, listCountsReached(moment)).some(
    ({ id }) => id === count,
  );
  if (!spec || !line || !isReached || !isCountable(value)) {
    return refuse('count-not-open', { count, item });
  }
  const isFirst = spec.kind === 'baseline';
  const expected = isFirst ? null : expectedOf(context, item);
  if ((isFirst && value === null) || (!isFirst && expected === null)) {
    return refuse('count-needs-baseline', { item, label: line.label });
  }
  return ok([{ type: 'count.recorded', data: { count, item, value, expected } }]);
}

/** Adds what was handed out, or takes back what was recorded too much. */
export function addToCount({ compiled, context }: Moment, order: OrderOf<'count.add'>): Facts {
  const { item, by } = order;
  const line = compiled.procedure.countItems.find(({ id }) => id === item);
  if (!line) return refuse('unknown-name', { name: item });
  const expected = expectedOf(context, item);
  return expected !== null && isCountable(expected + by) && by !== 0
    ? ok([{ type: 'count.added', data: { item, by } }])
    : refuse('count-needs-baseline', { item, label: line.label });
}

/** Adds to a tally. Any source may add one; taking back is the desk's. */
export function addToTally({ compiled, source }: Moment, order: OrderOf<'tally.add'>): Facts {
  const { tally, by } = order;
  if (!compiled.procedure.tallies.some(({ id }) => id === tally)) {
    return refuse('unknown-name', { name: tally });
  }
  if (by !== 1 && source !== 'desk') return refuse('desk-only', { order: order.type, source });
  return Number.isInteger(by) && by !== 0 && Math.abs(by) < 1000
    ? ok([{ type: 'tally.added', data: { tally, by } }])
    : refuse('unknown-name', { name: `${tally} ${by}` });
}

/** Starts, stops, answers a timer, or notes that it has come due. */
export function moveTimer(
  { compiled, context, source }: Moment,
  { type, timer }: OrderOf<'timer.start' | 'timer.stop' | 'timer.answer' | 'timer.remind'>,
): Facts {
  const spec = compiled.procedure.timers.find(({ id }) => id === timer);
  if (!spec) return refuse('unknown-name', { name: timer });
  const isRunning = timer in context.running;
  const params = { timer, label: spec.label };
  if (type === 'timer.start') {
    return isRunning
      ? refuse('timer-running', params)
      : ok([{ type: 'timer.started', data: { timer } }]);
  }
  if (!isRunning) return refuse('timer-not-running', params);
  if (type === 'timer.remind' && source !== 'wall')
    return refuse('desk-only', { order: type, source });
  const facts = {
    'timer.stop': { type: 'timer.stopped', data: { timer } },
    'timer.answer': { type: 'timer.answered', data: { timer } },
    'timer.remind': { type: 'timer.due', data: { timer } },
  } as const satisfies Record<string, Fact>;
  return ok([facts[type]]);
}

/** Somebody else takes a role over; a relief count may fall due. */
export function handOver({ compiled, source }: Moment, order: OrderOf<'role.handOver'>): Facts {
  const { role } = order;
  if (source !== 'desk') return refuse('desk-only', { order: order.type, source });
  if (!compiled.procedure.roles.some(({ id }) => id === role)) {
    return refuse('unknown-name', { name: role });
  }
  const label = order.label.trim();
  return label === '' || label.length > MOST_LABEL_CHARS
    ? refuse('hand-over-needs-label', { role })
    : ok([
        {
          type: 'role.handedOver',
          data: { role: asId(role), label, voiceCard: order.voiceCard ?? null },
        },
      ]);
}
