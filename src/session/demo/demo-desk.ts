/** What an invented team does at its desk: checklists, counts, packs, and hold points passed by hand. */
import { asksForPacks, contextOf, isOpen } from '../../procedure';
import type { HoldPoint, Step } from '../../procedure';
import type { TrackId } from '../../domain';
import type { Random } from '../../review';
import { catalogueOf } from '../implants/implants-orders';
import { viewImplants } from '../view/implants-view';
import { fetchOrders } from '../rehearsal/packs';
import type { DemoWall } from './demo-wall';

/** More packs than a case opens. */
const MOST_PACKS = 40;
/** What asks for sizes and work done, and can be looked at by eye; packs and checks are never passed. */
const CHECKED_BY_EYE: ReadonlySet<string> = new Set(['confirmed', 'finished', 'is', 'same']);

/** Lines of a step's checklist are answered, and its count is as expected. */
export function checkAndCount(wall: DemoWall, { checklist, count }: Step): void {
  if (checklist.length === 0 && count === null) return;
  const { checklists, counts } = wall.log.view(0, null);
  for (const { step, items } of checklists)
    for (const { item } of items)
      wall.order({ type: 'check.answer', step, item, answer: 'yes' }, 'desk');
  for (const { count: at, items } of counts.filter(({ isNow }) => isNow))
    for (const { item, expected } of items)
      wall.order({ type: 'count.record', count: at, item, value: expected ?? 0 }, 'desk');
}

/** Fetches what is still to be scanned, one by one; false where nothing was. */
export function fetchPacks(wall: DemoWall, random: Random): boolean {
  if (!asksForPacks(wall.compiled)) return false;
  const before = wall.log.count;
  for (let pack = 0; pack < MOST_PACKS; pack += 1) {
    const { facts } = wall.log;
    const view = viewImplants(wall.compiled, facts);
    const orders = fetchOrders(catalogueOf(wall.compiled, facts), view, wall.startAt);
    if (!orders.every((order) => wall.orderPack(order)) || orders.length === 0) break;
    wall.ms += (15 + 20 * random.uniform()) * 1000;
  }
  return wall.log.count !== before;
}

/** The closed hold point that a track stands before; null where none keeps it. */
export function closedPointOf(wall: DemoWall, track: TrackId): HoldPoint | null {
  const position = wall.positionOf(track);
  if (position.kind !== 'waiting') return null;
  const point = wall.compiled.holdPointOfStep.get(position.step.id);
  return point && !isOpen(wall.compiled, point, contextOf(wall.log.facts.state)) ? point : null;
}

/** Whether all that a hold point asks for can be looked at by eye. */
export function isCheckedByEye({ needs }: HoldPoint): boolean {
  return needs.every(({ type }) => CHECKED_BY_EYE.has(type));
}

/** Somebody passes a hold point at the desk, with a reason; false where the machine refuses it. */
export function passByHand(wall: DemoWall, { id }: HoldPoint): boolean {
  const reason = 'Checked by hand';
  return (
    wall.order({ type: 'override.request', holdPoint: id, reason }, 'desk') &&
    wall.order({ type: 'override.confirm' }, 'desk')
  );
}
