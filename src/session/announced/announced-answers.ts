/** What the wall answers when it is asked: what is next, the read-back again, the sizes. */
import type { CaptureId, FactOf } from '../../domain';
import { contextOf } from '../../procedure';
import type { CaseContext, CompiledProcedure } from '../../procedure';
import { answerPlan, answerTolerance } from './announced-plan';
import { fillSegments, readBackSegments, SAID } from './announced-segments';
import type { CaseFacts } from '../case-facts';
import { makeTrackView } from '../view/track-view';

/** The answer in segments. */
export function answer(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  { question, capture: id }: FactOf<'question.asked'>['data'],
): readonly string[] {
  if (question === 'plan') return answerPlan(compiled, facts);
  if (question === 'tolerance') return answerTolerance(compiled, facts);
  const context = contextOf(facts.state);
  if (question === 'size') return answerSize(compiled, context, id);
  if (question === 'sizes') return answerSizes(compiled, context);
  const offered = context.offered && compiled.captures.get(context.offered.capture);
  if (question === 'repeat' && offered && context.offered) {
    return [...readBackSegments(offered, context.offered.value), SAID.right];
  }
  const [main] = compiled.tracks;
  const cue = main && makeTrackView(compiled, facts, main).cues[question === 'next' ? 1 : 0];
  const step = cue && compiled.steps.get(cue.step);
  const segments = step ? fillSegments(compiled, step.cue, context) : [SAID.nothing];
  return question === 'next' ? [SAID.next, ...segments] : segments;
}

function answerSizes({ captures }: CompiledProcedure, context: CaseContext): readonly string[] {
  const sizes = [...captures.values()].filter(
    ({ id, row }) => row !== undefined && context.confirmed[id] !== undefined,
  );
  return sizes.length > 0
    ? sizes.flatMap((capture) => readBackSegments(capture, context.confirmed[capture.id] ?? null))
    : [SAID.nothing];
}

function answerSize(
  { captures }: CompiledProcedure,
  { confirmed }: CaseContext,
  id: CaptureId | undefined,
): readonly string[] {
  const capture = id === undefined ? undefined : captures.get(id);
  if (!capture) return [SAID.nothing];
  const value = confirmed[capture.id];
  return value === undefined ? [capture.label, SAID.nothing] : readBackSegments(capture, value);
}
