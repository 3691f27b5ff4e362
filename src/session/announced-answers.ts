/** What the wall answers when it is asked: what is next, the read-back again, the sizes. */
import type { Question } from '../domain';
import { contextOf } from '../procedure';
import type { CompiledProcedure } from '../procedure';
import { answerPlan, answerTolerance } from './announced-plan';
import { fillSegments, readBackSegments, SAID } from './announced-segments';
import type { CaseFacts } from './case-facts';
import { makeTrackView } from './track-view';

/** The answer in segments. */
export function answer(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  question: Question,
): readonly string[] {
  if (question === 'plan') return answerPlan(compiled, facts);
  if (question === 'tolerance') return answerTolerance(compiled, facts);
  const context = contextOf(facts.state);
  if (question === 'sizes') {
    const sizes = [...compiled.captures.values()].flatMap((capture) => {
      const value = context.confirmed[capture.id];
      return capture.row === undefined || value === undefined
        ? []
        : readBackSegments(capture, value);
    });
    return sizes.length > 0 ? sizes : [SAID.nothing];
  }
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
