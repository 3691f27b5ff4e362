/** Steps: what they name must exist, and what they promise must be possible. */
import type { Expanded, Step } from '../expanded';
import type { Procedure } from '../format';
import { isLegalValue } from '../values-of';
import { findDoubles, findUnknown, found, unless } from './finding';
import type { Finding } from './finding';

/** Checks every step of the expanded procedure. */
export function checkSteps(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const { steps, captures } = expanded;
  const taken = steps.flatMap((step) => step.captures);
  return [
    ...findDoubles('steps.captures', taken),
    ...captures
      .filter(({ id }) => !taken.includes(id))
      .map(({ id }) => found(`captures.${id}`, 'a step that takes it', 'none')),
    ...findDoubles(
      'steps.count',
      steps.flatMap(({ count }) => count ?? []),
    ),
    ...steps.flatMap((step) => [
      ...checkNames(procedure, expanded, step),
      ...checkLoop(expanded, step),
      ...checkPromises(expanded, step),
    ]),
  ];
}

function checkNames(procedure: Procedure, { captures }: Expanded, step: Step): readonly Finding[] {
  const path = `steps.${step.id}`;
  const roles = procedure.roles.map(({ id }) => id);
  return [
    ...findUnknown(
      `${path}.captures`,
      'a capture',
      step.captures,
      captures.map(({ id }) => id),
    ),
    ...findUnknown(
      `${path}.uses`,
      'an instrument',
      step.uses,
      procedure.instruments.map(({ id }) => id),
    ),
    ...findUnknown(
      `${path}.count`,
      'a count',
      step.count === null ? [] : [step.count],
      procedure.counts.map(({ id }) => id),
    ),
    ...findUnknown(
      `${path}.checklist`,
      'a role',
      step.checklist.map(({ by }) => by),
      roles,
    ),
    ...findDoubles(
      `${path}.checklist`,
      step.checklist.map(({ id }) => id),
    ),
    ...unless(
      step.begins !== 'said' || step.say !== null,
      `${path}.say`,
      'words that begin it',
      'none',
    ),
  ];
}

function checkLoop({ steps, captures }: Expanded, step: Step): readonly Finding[] {
  const { loop } = step;
  if (!loop) return [];
  const path = `steps.${step.id}.loop`;
  const line = steps.filter(({ track }) => track === step.track);
  const target = line.findIndex(({ id }) => id === loop.backTo);
  const capture = captures.find(({ id }) => id === loop.capture);
  const isDecided =
    !!capture && step.captures.includes(capture.id) && isLegalValue(capture, loop.is);
  return [
    ...unless(target !== -1, `${path}.backTo`, 'a step of this track', loop.backTo),
    ...unless(target <= line.indexOf(step), `${path}.backTo`, 'an earlier step', loop.backTo),
    ...unless(
      target === -1 || line[target]?.alternative === step.alternative,
      `${path}.backTo`,
      'a step of the same way',
      loop.backTo,
    ),
    ...unless(
      isDecided,
      `${path}.when`,
      'a capture of this step and one of its values',
      `${loop.capture} is ${loop.is}`,
    ),
  ];
}

/** A step done ahead can't be watched; so nothing may hang on how it is done. */
function checkPromises({ holdPoints }: Expanded, step: Step): readonly Finding[] {
  if (!step.ahead) return [];
  const guarded = holdPoints.some(
    ({ guards }) => guards.type === 'step' && guards.step === step.id,
  );
  const isPlain =
    step.captures.length === 0 && !step.loop && step.count === null && step.checklist.length === 0;
  return [
    ...unless(!guarded, `steps.${step.id}.ahead`, 'no hold point in front of it', 'a hold point'),
    ...unless(
      isPlain,
      `steps.${step.id}.ahead`,
      'a step without captures, loop, count or checklist',
      step.id,
    ),
    ...unless(step.exit === null, `steps.${step.id}.ahead`, 'a step outside a repeat', step.id),
  ];
}
