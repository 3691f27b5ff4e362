/** The read-back that waits for an answer, with what does not agree with it. */
import { clockToTowards } from '../../domain';
import type { Side } from '../../domain';
import { contextOf, listBroken, valueToWords } from '../../procedure';
import type { Capture, CompiledProcedure } from '../../procedure';
import type { CaseFacts } from '../case-facts';
import { bareText, unitOf } from './value-text';
import type { ReadBackView } from './view';
import { plannedOf } from './wanted-view';

/** The open read-back; null where none waits. */
export function viewReadBack(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  lapseMs: number,
): ReadBackView | null {
  const context = contextOf(facts.state);
  const { offered } = context;
  const capture = offered && compiled.captures.get(offered.capture);
  if (!capture || !facts.askedAt) return null;
  return {
    capture: capture.id,
    kind: capture.kind,
    label: capture.label,
    value: offered.value,
    text: bareText(capture, offered.value),
    unit: unitOf(capture),
    spell:
      capture.kind === 'report'
        ? capture.reads
        : `${capture.label}, ${valueToWords(capture, offered.value)}`,
    since: facts.askedAt.since,
    lapsesAfterMs: lapseMs,
    planned: plannedOf(facts, capture),
    towards: towardsOf(capture, offered.value, facts.setup?.side ?? 'right'),
    warnings: listBroken(compiled, context, capture.id, offered.value).map(({ broken }) => broken),
    isQuestioned: context.isQuestioned,
  };
}

function towardsOf(capture: Capture, value: string | number, side: Side): string | null {
  if (capture.kind !== 'clock' || !capture.towards || typeof value !== 'number') return null;
  const { three, nine } = capture.towards;
  return clockToTowards(value, side === 'right' ? { three, nine } : { three: nine, nine: three });
}
