/** What relies on the size that is being changed, in titles that people know. */
import type { CaptureId } from '../domain';
import { contextOf, listRelying, valueToText } from '../procedure';
import type { CompiledProcedure } from '../procedure';
import type { CaseFacts } from './case-facts';
import type { RelianceView } from './view-around';

/** Settled values and finished steps that were decided by the size in change; null while none is. */
export function viewReliance(
  compiled: CompiledProcedure,
  { state }: CaseFacts,
): RelianceView | null {
  const { changing, confirmed, passed } = contextOf(state);
  const capture = changing && compiled.captures.get(changing);
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
