/**
 * Which values of a capture a procedure can tell apart. Captures that are compared for
 * being equal form a family; within it, values that every other constraint, condition
 * and loop treats alike form a class. Renaming the values of a class everywhere in a
 * family turns each state into one with the same future, so a walk needs only as many
 * values of a class as the family has members, and may name them by order of appearance
 * (scalar sets: Ip and Dill, Better verification through symmetry, 1996).
 */
import { asId } from '../domain';
import type { CaptureId, CaptureValue } from '../domain';
import type { CompiledProcedure } from './compile';
import { agrees } from './constraints';
import type { ConstraintSpec } from './format';
import { isFree, listLegalValues } from './values-of';

/** Stands for whatever somebody types. */
export const WRITTEN = 'tried by the walk';

type Signature = string;

/** For each capture, the values that a walk must try. */
export function valuesThatMatter(
  compiled: CompiledProcedure,
): ReadonlyMap<CaptureId, ReadonlySet<CaptureValue>> {
  const families = findFamilies(compiled);
  return new Map(
    [...compiled.captures.keys()].map((id) => {
      const members = families.get(id) ?? [id];
      const taken = new Map<Signature, CaptureValue[]>();
      for (const value of valuesOf(compiled, id)) {
        const signature = signatureOf(compiled, members, value);
        const before = taken.get(signature) ?? [];
        if (before.length < members.length) taken.set(signature, [...before, value]);
      }
      return [id, new Set([...taken.values()].flat())];
    }),
  );
}

/** Makes the function that names confirmed values by their class and order of appearance. */
export function createValueNames(
  compiled: CompiledProcedure,
): (values: readonly (readonly [string, CaptureValue])[]) => readonly string[] {
  const families = findFamilies(compiled);
  const order = [...compiled.captures.keys()].map(String);
  const known = new Map<string, Signature>();
  const nameOf = (id: CaptureId, value: CaptureValue) => {
    const key = `${id}=${value}`;
    const signature = known.get(key) ?? signatureOf(compiled, families.get(id) ?? [id], value);
    known.set(key, signature);
    return signature;
  };
  return (values) => {
    const seen = new Map<string, CaptureValue[]>();
    return [...values]
      .sort(([a], [b]) => order.indexOf(a) - order.indexOf(b))
      .map(([key, value]) => {
        const id = asId<CaptureId>(key);
        const signature = nameOf(id, value);
        const family = `${(families.get(id) ?? [id]).join()} ${signature}`;
        const before = seen.get(family) ?? [];
        if (!before.includes(value)) seen.set(family, [...before, value]);
        return `${id}=${signature}#${(seen.get(family) ?? []).indexOf(value)}`;
      });
  };
}

/** Captures whose values are compared for being equal, or unequal, directly or by way of others. */
function findFamilies({
  procedure,
  holdPoints,
  captures,
}: CompiledProcedure): ReadonlyMap<CaptureId, readonly CaptureId[]> {
  const pairs = [
    ...procedure.constraints.filter(isEquality).map(({ capture, to }) => [capture, to] as const),
    ...[...holdPoints.values()].flatMap(({ guards, needs }) =>
      needs.flatMap((need) =>
        need.type === 'same' && guards.type === 'capture'
          ? [[need.as, guards.capture] as const]
          : [],
      ),
    ),
  ];
  const families = new Map([...captures.keys()].map((id) => [id, [id]]));
  for (const [a, b] of pairs) {
    const joined = [
      ...new Set([...(families.get(asId(a)) ?? []), ...(families.get(asId(b)) ?? [])]),
    ].sort();
    for (const id of joined) families.set(id, joined);
  }
  return families;
}

/** Equality of the plain values; with an addition it says which numbers, so it is no renaming. */
function isEquality({ relation, plus }: ConstraintSpec): boolean {
  return (relation === 'same' || relation === 'different') && plus === 0;
}

/** How everything but equality treats a value, in whichever capture of its family. */
function signatureOf(
  compiled: CompiledProcedure,
  members: readonly CaptureId[],
  value: CaptureValue,
): Signature {
  const isMember = (id: string) => members.some((member) => member === id);
  const { procedure, holdPoints, steps } = compiled;
  const related = procedure.constraints
    .filter((constraint) => !isEquality(constraint))
    .flatMap((constraint) => [
      ...(isMember(constraint.capture)
        ? partnersOf(compiled, constraint, constraint.to).map((other) =>
            agrees(constraint, value, other),
          )
        : []),
      ...(isMember(constraint.to)
        ? partnersOf(compiled, constraint, constraint.capture).map((other) =>
            agrees(constraint, other, value),
          )
        : []),
    ]);
  const conditions = [...holdPoints.values()].flatMap(({ needs }) =>
    needs.flatMap((need) => [
      ...(need.type === 'is' ? [need] : []),
      ...(need.unless?.type === 'is' ? [need.unless] : []),
    ]),
  );
  const named = [
    ...conditions.filter(({ capture }) => isMember(capture)).map((need) => need.value === value),
    ...[...steps.values()].flatMap(({ loop }) =>
      loop && isMember(loop.capture) ? [loop.is === value] : [],
    ),
  ];
  return [...related, ...named].map((is) => (is ? 'y' : 'n')).join('');
}

/** What a value is held against: all values, or where they are ordered the least and the greatest. */
function partnersOf(
  compiled: CompiledProcedure,
  { relation }: ConstraintSpec,
  id: string,
): readonly CaptureValue[] {
  const all = valuesOf(compiled, asId(id));
  const isOrdered = relation === 'at-least' || relation === 'at-most';
  return isOrdered ? [...new Set([...all.slice(0, 1), ...all.slice(-1)])] : all;
}

function valuesOf({ captures }: CompiledProcedure, id: CaptureId): readonly CaptureValue[] {
  const capture = captures.get(id);
  if (!capture) return [];
  return isFree(capture) ? [WRITTEN] : listLegalValues(capture).map(({ value }) => value);
}
