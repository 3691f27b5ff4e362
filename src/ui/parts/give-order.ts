/**
 * Gives an order and sees to it that no failure stays silent: what the session
 * refuses is on the record and in the view; what never reached it becomes a notice.
 */
import type { ErrorCode, RoomOrder } from '../../domain';
import type { AppModel } from '../app-model.svelte';

/** Failures that no entry tells of. */
const UNRECORDED: readonly ErrorCode[] = [
  'case-unknown',
  'window-unreachable',
  'another-window-writes',
];

/** Gives an order; returns whether it was carried out. */
export async function giveOrder(
  app: AppModel,
  order: RoomOrder,
  source: 'desk' | 'pedal' | 'scanner' = 'desk',
): Promise<boolean> {
  const refusal = await app.order(order, source);
  if (refusal && UNRECORDED.includes(refusal.code)) app.notify(refusal);
  return refusal === null;
}
