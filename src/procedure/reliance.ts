/**
 * Which captures were chosen by which. B relies on A where a hold point in front of B,
 * or of the step that takes B, asks for A; where a constraint compares them; where the
 * step that takes B shows A; or where the file says so. A size that changes puts
 * everything that relies on it in doubt.
 */
import type { CaptureId } from '../domain';
import type { Capture, HoldPoint, Step } from './expanded';
import type { ConstraintSpec, DerivedSpec } from './format';

interface RelianceInput {
  readonly steps: readonly Step[];
  readonly captures: readonly Capture[];
  readonly holdPoints: readonly HoldPoint[];
  readonly constraints: readonly ConstraintSpec[];
  readonly derived: readonly DerivedSpec[];
}

/** For each capture, those that were chosen by it, directly. */
export function findReliers(input: RelianceInput): ReadonlyMap<CaptureId, readonly CaptureId[]> {
  const reliers = new Map<CaptureId, Set<CaptureId>>();
  const ids = new Map<string, CaptureId>(input.captures.map(({ id }) => [id, id]));
  const add = (earlier: string, later: CaptureId) => {
    const id = ids.get(earlier);
    if (!id || id === later) return;
    reliers.set(id, (reliers.get(id) ?? new Set()).add(later));
  };
  for (const capture of input.captures) {
    const step = input.steps.find(({ captures }) => captures.includes(capture.id));
    for (const earlier of step ? sourcesOf(input, step, capture) : []) add(earlier, capture.id);
  }
  return new Map([...reliers].map(([id, later]) => [id, [...later]]));
}

/** All that relies on a capture, however far along. */
export function listRelying(
  reliers: ReadonlyMap<CaptureId, readonly CaptureId[]>,
  capture: CaptureId,
): readonly CaptureId[] {
  const found = new Set<CaptureId>();
  const queue = [capture];
  for (let id = queue.pop(); id !== undefined; id = queue.pop()) {
    for (const later of reliers.get(id) ?? []) {
      if (later === capture || found.has(later)) continue;
      found.add(later);
      queue.push(later);
    }
  }
  return [...found];
}

/** What a capture rests on: asked for, compared with, shown, or named by the file. */
function sourcesOf(input: RelianceInput, step: Step, capture: Capture): readonly string[] {
  const before = input.holdPoints.filter(({ guards }) =>
    guards.type === 'step' ? guards.step === step.id : guards.capture === capture.id,
  );
  const asked = before.flatMap(({ needs }) =>
    needs.flatMap((need) =>
      need.type === 'confirmed' || need.type === 'is'
        ? [need.capture]
        : need.type === 'same'
          ? [need.as]
          : [],
    ),
  );
  const compared = input.constraints
    .filter((constraint) => constraint.capture === capture.id)
    .map(({ to }) => to);
  const shown = [...`${step.title} ${step.detail} ${step.cue}`.matchAll(/\{([a-z0-9-]+)\}/g)].map(
    ([, name = '']) => input.derived.find(({ id }) => id === name)?.from ?? name,
  );
  // A text may also show what the step itself takes.
  const earlier = shown.filter((name) => !step.captures.some((id) => id === name));
  return [...asked, ...compared, ...earlier, ...capture.reliesOn];
}
