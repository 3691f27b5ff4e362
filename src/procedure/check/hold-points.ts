/** Hold points: what they guard and ask for must exist and be comparable. */
import type { Expanded, HoldPoint } from '../expanded';
import type { ConditionSpec, Procedure, UnlessSpec } from '../format';
import { isLegalValue } from '../values-of';
import { findDoubles, findUnknown, found, unless } from './finding';
import type { Finding } from './finding';

/** Checks every hold point; one thing is guarded once. */
export function checkHoldPoints(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const guarded = expanded.holdPoints.map(({ guards }) =>
    guards.type === 'step' ? guards.step : guards.capture,
  );
  return [
    ...findDoubles('guarded-twice', 'holdPoints.guards', guarded),
    ...expanded.holdPoints.flatMap((point) => checkHoldPoint(procedure, expanded, point)),
  ];
}

function checkHoldPoint(
  procedure: Procedure,
  expanded: Expanded,
  { id, guards, needs }: HoldPoint,
): readonly Finding[] {
  const path = `holdPoints.${id}`;
  const { steps, captures } = expanded;
  const isKnown =
    guards.type === 'step'
      ? steps.some((step) => step.id === guards.step)
      : captures.some((capture) => capture.id === guards.capture);
  const subject = guards.type === 'step' ? guards.step : guards.capture;
  return [
    ...unless(isKnown, 'unknown-name', `${path}.guards`, `a ${guards.type} of this file`, subject),
    ...needs.flatMap((need, index) => [
      ...checkNeed(procedure, expanded, `${path}.needs.${index}`, need, guards),
      ...(need.unless ? checkUnless(expanded, `${path}.needs.${index}.unless`, need.unless) : []),
    ]),
  ];
}

function checkNeed(
  procedure: Procedure,
  { steps, captures }: Expanded,
  path: string,
  need: ConditionSpec,
  guards: HoldPoint['guards'],
): readonly Finding[] {
  switch (need.type) {
    case 'finished':
      return findUnknown(
        'unknown-name',
        `${path}.step`,
        'a step',
        [need.step],
        steps.map(({ id }) => id),
      );
    case 'agrees':
      return findUnknown(
        'unknown-name',
        `${path}.count`,
        'a count',
        [need.count],
        procedure.counts.map(({ id }) => id),
      );
    case 'running':
      return findUnknown(
        'unknown-name',
        `${path}.timer`,
        'a timer',
        [need.timer],
        procedure.timers.map(({ id }) => id),
      );
    case 'reconciled':
      // A size that changes is compared anew: it can't wait for itself.
      return unless(
        guards.type === 'step',
        'need-impossible',
        `${path}.type`,
        'a guarded step',
        guards.type,
      );
    case 'same': {
      const isGuarded = guards.type === 'capture';
      return captures.some(({ id }) => id === need.as)
        ? unless(
            isGuarded,
            'need-impossible',
            `${path}.type`,
            'a guarded capture to compare',
            guards.type,
          )
        : [found('unknown-name', path, 'a capture of this file', need.as)];
    }
    case 'confirmed':
    case 'is': {
      const capture = captures.find(({ id }) => id === need.capture);
      if (!capture) return [found('unknown-name', path, 'a capture of this file', need.capture)];
      const isPossible = need.type === 'confirmed' || isLegalValue(capture, need.value);
      const received = need.type === 'is' ? String(need.value) : '';
      return unless(
        isPossible,
        'need-impossible',
        `${path}.value`,
        `a value of "${need.capture}"`,
        received,
      );
    }
  }
}

function checkUnless(
  { steps, captures, alternatives }: Expanded,
  path: string,
  when: UnlessSpec,
): readonly Finding[] {
  switch (when.type) {
    case 'chosen':
      return findUnknown(
        'unknown-name',
        path,
        'an alternative',
        [when.alternative],
        alternatives.map(({ id }) => id),
      );
    case 'skipped': {
      const step = steps.find(({ id }) => id === when.step);
      return unless(
        !!step?.optional,
        'need-impossible',
        path,
        'an optional step of this file',
        when.step,
      );
    }
    case 'is': {
      const capture = captures.find(({ id }) => id === when.capture);
      return unless(
        !!capture && isLegalValue(capture, when.value),
        'need-impossible',
        path,
        'a capture and one of its values',
        `${when.capture} is ${when.value}`,
      );
    }
  }
}
