/** Orders of every type, drawn with a fixed seed. */
import { asId } from '../../src/domain';
import type { CaptureValue, CheckItemId, Order } from '../../src/domain';
import { contextOf, listLegalValues, listPhrases, positionOf } from '../../src/procedure';
import type { CaseState, CompiledProcedure } from '../../src/procedure';

/** Numbers from 0 to 1, the same for the same seed (mulberry32, public domain). */
export function createRandom(seed: number): () => number {
  let at = seed >>> 0;
  return () => {
    at = (at + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(at ^ (at >>> 15), at | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

type Maker = (compiled: CompiledProcedure, random: () => number) => Order;

const pick = <T>(list: readonly T[], random: () => number): T =>
  list[Math.floor(random() * list.length)] as T;
const nameOf = (list: Iterable<string>, random: () => number): string =>
  pick([...list, 'no-such-thing'], random);
const flip = (random: () => number) => random() < 0.5;

/** One maker for each type of order; the type makes sure that none is forgotten. */
const MAKERS: { readonly [Type in Order['type']]: Maker } = {
  'step.begin': ({ steps }, r) => ({ type: 'step.begin', step: asId(nameOf(steps.keys(), r)) }),
  'step.finish': ({ tracks }, r) => ({ type: 'step.finish', track: asId(nameOf(tracks, r)) }),
  'step.goBack': ({ tracks }, r) => ({ type: 'step.goBack', track: asId(nameOf(tracks, r)) }),
  'step.skip': ({ tracks }, r) => ({ type: 'step.skip', track: asId(nameOf(tracks, r)), reason: flip(r) ? 'broken' : ' ' }),
  'step.leaveOut': ({ steps }, r) => ({ type: 'step.leaveOut', step: asId(nameOf(steps.keys(), r)) }),
  'step.reportAhead': ({ steps }, r) => ({ type: 'step.reportAhead', step: asId(nameOf(steps.keys(), r)) }),
  'alternative.choose': ({ alternatives }, r) => ({ type: 'alternative.choose', alternative: asId(nameOf(alternatives.keys(), r)) }),
  'group.finish': (_, r) => ({ type: 'group.finish', group: asId(flip(r) ? 'screw' : 'nothing') }),
  'capture.offer': (compiled, r) => offer(compiled, r),
  'capture.confirm': () => ({ type: 'capture.confirm' }),
  'capture.withdraw': () => ({ type: 'capture.withdraw' }),
  'capture.lapse': () => ({ type: 'capture.lapse' }),
  'capture.change': ({ captures }, r) => ({ type: 'capture.change', capture: asId(nameOf(captures.keys(), r)) }),
  'capture.keep': () => ({ type: 'capture.keep' }),
  'check.answer': ({ steps }, r) => {
    const step = pick([...steps.values()].filter(({ checklist }) => checklist.length > 0).concat([...steps.values()].slice(0, 1)), r);
    return { type: 'check.answer', step: step.id, item: asId<CheckItemId>(nameOf(step.checklist.map(({ id }) => id), r)), answer: pick(['yes', 'no', 'not-applicable'], r) };
  },
  'count.record': ({ procedure }, r) => ({ type: 'count.record', count: asId(nameOf(procedure.counts.map(({ id }) => id), r)), item: asId(nameOf(procedure.countItems.map(({ id }) => id), r)), value: pick([null, 8, 20, -1, 0.5, 5000], r) }),
  'count.add': ({ procedure }, r) => ({ type: 'count.add', item: asId(nameOf(procedure.countItems.map(({ id }) => id), r)), by: pick([1, 5, -1, 0, 0.5, -500], r) }),
  'tally.add': ({ procedure }, r) => ({ type: 'tally.add', tally: asId(nameOf(procedure.tallies.map(({ id }) => id), r)), by: pick([1, -1, 0, 0.5], r) }),
  'timer.start': ({ procedure }, r) => ({ type: 'timer.start', timer: asId(nameOf(procedure.timers.map(({ id }) => id), r)) }),
  'timer.stop': ({ procedure }, r) => ({ type: 'timer.stop', timer: asId(nameOf(procedure.timers.map(({ id }) => id), r)) }),
  'timer.answer': ({ procedure }, r) => ({ type: 'timer.answer', timer: asId(nameOf(procedure.timers.map(({ id }) => id), r)) }),
  'timer.remind': ({ procedure }, r) => ({ type: 'timer.remind', timer: asId(nameOf(procedure.timers.map(({ id }) => id), r)) }),
  'role.handOver': ({ procedure }, r) => ({ type: 'role.handOver', role: asId(nameOf(procedure.roles.map(({ id }) => id), r)), label: flip(r) ? 'scrub B' : '' }),
  'order.undo': () => ({ type: 'order.undo' }),
  'clock.hold': () => ({ type: 'clock.hold', reason: 'Imaging' }),
  'clock.resume': () => ({ type: 'clock.resume' }),
  'question.ask': () => ({ type: 'question.ask', question: 'next' }),
  'announcer.mute': () => ({ type: 'announcer.mute' }),
  'announcer.unmute': () => ({ type: 'announcer.unmute' }),
  'override.request': ({ holdPoints }, r) => ({ type: 'override.request', holdPoint: asId(nameOf(holdPoints.keys(), r)), reason: flip(r) ? 'gauge broken' : '' }),
  'override.confirm': () => ({ type: 'override.confirm' }),
  'override.withdraw': () => ({ type: 'override.withdraw' }),
  'milestone.mark': () => ({ type: 'milestone.mark', milestone: 'PC' }),
  'case.close': () => ({ type: 'case.close', outcome: 'abandoned', reason: 'tried' }),
}; // prettier-ignore

function offer({ captures }: CompiledProcedure, random: () => number): Order {
  const capture = pick([...captures.values()], random);
  const legal = listLegalValues(capture).map(({ value }) => value);
  const value = pick<CaptureValue>([...legal, 'nonsense', -3, ''], random);
  return { type: 'capture.offer', capture: capture.id, value };
}

const TYPES = Object.keys(MAKERS) as Order['type'][];

export const anyOrder = {
  /** One order of each type. */
  all: (compiled: CompiledProcedure, random: () => number): readonly Order[] =>
    TYPES.map((type) => MAKERS[type](compiled, random)),
  /** One order of any type but the one that ends the case. */
  one: (compiled: CompiledProcedure, random: () => number): Order =>
    MAKERS[pick(TYPES.filter((type) => type !== 'case.close'), random)](compiled, random), // prettier-ignore
  /** What the steps in hand ask for beside sizes: ticks, counts that agree, typed notes. */
  answers: (compiled: CompiledProcedure, state: CaseState): readonly Order[] => [
    ...compiled.tracks.flatMap((track): Order[] => {
      const position = positionOf(compiled, state, track);
      if (position.kind !== 'doing') return [];
      const { id, checklist, captures } = position.step;
      const notes = captures.filter((capture) =>
        ['note', 'label'].includes(compiled.captures.get(capture)?.kind ?? ''),
      );
      return [
        ...checklist.map(({ id: item }): Order => ({ type: 'check.answer', step: id, item: asId<CheckItemId>(item), answer: 'yes' })), // prettier-ignore
        ...(contextOf(state).offered ? [] : notes).map((capture): Order => ({
          type: 'capture.offer',
          capture,
          value: 'written',
        })),
      ];
    }),
    ...listPhrases(compiled, state).flatMap(({ order }) =>
      order.type === 'count.record' && order.value !== null ? [order] : [],
    ),
  ],
};
