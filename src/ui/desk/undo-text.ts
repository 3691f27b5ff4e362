/** What taking the last order back takes back, in words. Pure. */
import type { OrderType } from '../../domain';

const NAMES: Partial<Record<OrderType, string>> = {
  'step.begin': 'step begun',
  'step.finish': 'step done',
  'step.goBack': 'going back',
  'step.skip': 'step left out',
  'step.leaveOut': 'step left out',
  'step.reportAhead': 'done ahead',
  'group.finish': 'end of the group',
  'alternative.choose': 'other way',
  'capture.confirm': 'confirmed value',
  'check.answer': 'answer',
  'count.record': 'count',
  'count.add': 'handed out',
  'timer.start': 'timer start',
  'timer.stop': 'timer stop',
  'role.handOver': 'hand-over',
  'override.confirm': 'override',
};

/** The name of an order that can be taken back. */
export function undoToText(order: OrderType): string {
  return NAMES[order] ?? 'last order';
}
