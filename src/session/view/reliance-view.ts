/** What relies on the size that is being changed, in titles that people know. */
import type { CaptureId } from '../../domain';
import { contextOf, listRelying, valueToText } from '../../procedure';
import type { CompiledProcedure } from '../../procedure';
import type { CaseFacts } from '../case-facts';
import type { RelianceView } from './view-around';

/** Settled values and finished steps that were decided by the size in change; null while none is. */
export function viewReliance(compiled: CompiledProcedure, facts: CaseFacts): RelianceView | null {
  const { changing } = contextOf(facts.state);
  return changing ? relianceOf(compiled, facts, changing) : null;
}

/** The same for every settled value, to be read before it is changed. */
export function viewChangeable(
  compiled: CompiledProcedure,
  facts: CaseFacts,
): readonly RelianceView[] {
  const { confirmed, doubtful, changing } = contextOf(facts.state);
  return [...compiled.captures.keys()].flatMap((id) => {
    const isSettled = id in confirmed && !(id in doubtful) && id !== changing;
    const reliance = isSettled ? relianceOf(compiled, facts, id) : null;
    return reliance ? [reliance] : [];
  });
}

function relianceOf(
  compiled: CompiledProcedure,
  { state }: CaseFacts,
  id: CaptureId,
): RelianceView | null {
  const { confirmed, passed } = contextOf(state);
  const capture = compiled.captures.get(id);
  if (!capture) return null;
  const relying = listRelying(compiled.reliers, capture.id);
  const all: readonly CaptureId[] = [capture.id, ...relying];
  return {
    capture: capture.id,
    label: capture.label,
    relied: relying.flatMap((id) => {
      const later = compiled.captures.get(id);
      const value = confirmed[id];
      return later && value !== undefined
        ? [{ label: later.label, text: valueToText(later, value) }]
        : [];
    }),
    steps: [...compiled.steps.values()].flatMap((step) =>
      passed[step.id] === 'finished' && step.captures.length === 0 && reads(compiled, step, all)
        ? [step.title]
        : [],
    ),
  };
}

/** Whether a step shows one of these values, or stands behind a hold point that asks for one. */
function reads(
  { holdPointOfStep }: CompiledProcedure,
  {
    id,
    title,
    detail,
    cue,
  }: { id: Parameters<typeof holdPointOfStep.get>[0]; title: string; detail: string; cue: string },
  captures: readonly CaptureId[],
): boolean {
  const asked = (holdPointOfStep.get(id)?.needs ?? []).flatMap((need) =>
    need.type === 'confirmed' || need.type === 'is' ? [need.capture] : [],
  );
  return captures.some(
    (capture) =>
      asked.some((name) => name === capture) ||
      `${title} ${detail} ${cue}`.includes(`{${capture}}`),
  );
}
