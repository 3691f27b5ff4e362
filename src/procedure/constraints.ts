/** What must agree between two captures: whether it does, and which texts say so. */
import type { CaptureId, CaptureValue } from '../domain';
import type { CaseContext } from './context';
import type { ConstraintSpec } from './format';
import type { Lookups } from './lookups';

/** The constraints that a value offered for a capture would break; both values must be known. */
export function listBroken(
  { procedure }: Pick<Lookups, 'procedure'>,
  context: CaseContext,
  capture: CaptureId,
  value: CaptureValue,
): readonly ConstraintSpec[] {
  return procedure.constraints.filter((constraint) => {
    if (constraint.capture !== capture) return false;
    const other = context.confirmed[constraint.to as CaptureId];
    return other !== undefined && !agrees(constraint, value, other);
  });
}

/** Whether a value may be offered at all: no constraint that refuses is broken. */
export function isRefused(
  compiled: Pick<Lookups, 'procedure'>,
  context: CaseContext,
  capture: CaptureId,
  value: CaptureValue,
): boolean {
  return listBroken(compiled, context, capture, value).some(({ onBreak }) => onBreak === 'refuse');
}

/** Whether a value stands as the constraint wants it to the other one. */
export function agrees(
  { relation, plus, pairs }: ConstraintSpec,
  value: CaptureValue,
  other: CaptureValue,
): boolean {
  const shifted = typeof other === 'number' ? other + plus : other;
  switch (relation) {
    case 'same':
      return value === shifted;
    case 'different':
      return value !== shifted;
    case 'at-least':
      return Number(value) >= Number(shifted);
    case 'at-most':
      return Number(value) <= Number(shifted);
    case 'goes-with':
      return (pairs ?? []).some(({ of, are }) => of === other && are.includes(value));
  }
}
