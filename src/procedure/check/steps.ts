/** Steps: what they name must exist, and what they promise must be possible. */
import type { Expanded, Step } from '../expanded';
import type { Procedure } from '../format';
import { isFree, isLegalValue, listLegalValues } from '../values-of';
import { findDoubles, findUnknown, found, unless } from './finding';
import type { Finding } from './finding';

/** Checks every step of the expanded procedure. */
export function checkSteps(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const { steps, captures } = expanded;
  const taken = steps.flatMap((step) => step.captures);
  return [
    ...findDoubles('capture-taken-twice', 'steps.captures', taken),
    ...captures
      .filter(({ id }) => !taken.includes(id))
      .map(({ id }) =>
        found('capture-never-taken', `captures.${id}`, 'a step that takes it', 'none'),
      ),
    ...findDoubles(
      'count-taken-twice',
      'steps.count',
      steps.flatMap(({ count }) => count ?? []),
    ),
    ...steps.flatMap((step) => [
      ...checkNames(procedure, expanded, step),
      ...checkLoop(expanded, step),
      ...checkAhead(expanded, step),
      ...checkOptional(expanded, step),
    ]),
  ];
}

function checkNames(procedure: Procedure, { captures }: Expanded, step: Step): readonly Finding[] {
  const path = `steps.${step.id}`;
  const roles = procedure.roles.map(({ id }) => id);
  return [
    ...findUnknown(
      'unknown-name',
      `${path}.captures`,
      'a capture',
      step.captures,
      captures.map(({ id }) => id),
    ),
    ...findUnknown(
      'unknown-instrument',
      `${path}.uses`,
      'an instrument',
      step.uses,
      procedure.instruments.map(({ id }) => id),
    ),
    ...findUnknown(
      'unknown-name',
      `${path}.count`,
      'a count',
      step.count === null ? [] : [step.count],
      procedure.counts.map(({ id }) => id),
    ),
    ...findUnknown(
      'unknown-role',
      `${path}.checklist`,
      'a role',
      step.checklist.map(({ by }) => by),
      roles,
    ),
    ...findDoubles(
      'id-twice',
      `${path}.checklist`,
      step.checklist.map(({ id }) => id),
    ),
    ...unless(
      step.begins !== 'said' || step.say !== null,
      'begins-without-words',
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
  if (target === -1)
    return [found('unknown-name', `${path}.backTo`, 'a step of this track', loop.backTo)];
  const capture = captures.find(({ id }) => id === loop.capture);
  const isDecided =
    !!capture && step.captures.includes(capture.id) && isLegalValue(capture, loop.is);
  const canLeave =
    !isDecided ||
    isFree(capture) ||
    listLegalValues(capture).some(({ value }) => value !== loop.is);
  const bad = (holds: boolean, place: string, expected: string, received: string) =>
    unless(holds, 'loop-faulty', `${path}.${place}`, expected, received);
  return [
    ...bad(target <= line.indexOf(step), 'backTo', 'an earlier step', loop.backTo),
    ...bad(
      line[target]?.alternative === step.alternative,
      'backTo',
      'a step of the same way',
      loop.backTo,
    ),
    ...bad(
      isDecided,
      'when',
      'a capture of this step and one of its values',
      `${loop.capture} is ${loop.is}`,
    ),
    ...unless(
      canLeave,
      'loop-without-exit',
      `${path}.when`,
      'a capture that can have another value too',
      `${loop.capture} is always ${loop.is}`,
    ),
  ];
}

/** A step done ahead can't be watched; so nothing may hang on how it is done. */
function checkAhead({ steps, holdPoints }: Expanded, step: Step): readonly Finding[] {
  if (!step.ahead) return [];
  const path = `steps.${step.id}.ahead`;
  const guarded = holdPoints.some(
    ({ guards }) => guards.type === 'step' && guards.step === step.id,
  );
  const isPlain =
    step.captures.length === 0 && !step.loop && step.count === null && step.checklist.length === 0;
  const first = steps.find(({ track, alternative }) => track === step.track && !alternative);
  const bad = (holds: boolean, expected: string, received: string) =>
    unless(holds, 'ahead-contradicts', path, expected, received);
  return [
    ...bad(!guarded, 'no hold point in front of it', 'a hold point'),
    ...bad(isPlain, 'a step without captures, loop, count or checklist', step.id),
    ...bad(step.exit === null, 'a step outside a repeat', step.id),
    ...unless(first !== step, 'ahead-of-nothing', path, 'a step before it', 'none'),
  ];
}

/** What may be left out must not be asked for by a hold point that does not say "unless skipped". */
function checkOptional({ holdPoints, steps }: Expanded, step: Step): readonly Finding[] {
  if (!step.optional) return [];
  const later = steps.slice(steps.indexOf(step) + 1);
  return holdPoints.flatMap(({ id, needs, guards }) => {
    const isLater = guards.type === 'step' && later.some((other) => other.id === guards.step);
    return needs.flatMap((need, index) => {
      const isAsked = need.type === 'finished' && need.step === step.id && isLater;
      const isExcused = need.unless?.type === 'skipped' && need.unless.step === step.id;
      return unless(
        !isAsked || isExcused,
        'optional-but-needed',
        `holdPoints.${id}.needs.${index}`,
        `a step that can't be left out, or "unless" it was`,
        step.id,
      );
    });
  });
}
