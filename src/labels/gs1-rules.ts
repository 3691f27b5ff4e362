/**
 * What may stand together on one pack: repeated fields must agree, some exclude each
 * other, some need another. GS1 wants these rules applied to all bar codes of a pack
 * together, so a lot without its product is not wrong, only not yet whole.
 */
import { ok } from '../domain';
import type { Fault, Result } from '../domain';
import type { Gs1Element } from './gs1';
import { faultAt } from './label-fault';

/** Checks repeats and pairs; what only waits for a product number passes. */
export function checkTogether(elements: readonly Gs1Element[]): Result<null, Fault> {
  for (const element of elements) {
    const problem =
      findRepeat(elements, element) ??
      findExcluded(elements, element) ??
      findNeed(elements, element);
    if (problem) return problem;
  }
  return ok(null);
}

type Problem = ReturnType<typeof faultAt> | null;

function findRepeat(
  elements: readonly Gs1Element[],
  { identifier, value, at }: Gs1Element,
): Problem {
  const earlier = elements.find(
    (other) => other.identifier.id === identifier.id && other.at < at && other.value !== value,
  );
  return earlier
    ? faultAt('label-repeated', at, {
        part: identifier.title,
        found: value,
        expected: earlier.value,
      })
    : null;
}

function findExcluded(elements: readonly Gs1Element[], { identifier, at }: Gs1Element): Problem {
  const other = elements.find(({ identifier: { id } }) => identifier.excludes.includes(id));
  return other
    ? faultAt('label-pair', at, { part: identifier.title, found: other.identifier.title })
    : null;
}

function findNeed(elements: readonly Gs1Element[], { identifier, at }: Gs1Element): Problem {
  const unmet = identifier.requires.find(
    (choices) =>
      // A product number may stand on the pack's other bar code.
      !choices.includes('01') && !elements.some(({ identifier: { id } }) => choices.includes(id)),
  );
  return unmet
    ? faultAt('label-needs', at, {
        part: identifier.title,
        expected: unmet.map((id) => `(${id})`).join(' or '),
      })
    : null;
}
