/** Captures, derived values and constraints: ranges that hold something, names that exist. */
import type { Capture, Expanded } from '../expanded';
import type { ConstraintSpec, DerivedSpec, Procedure } from '../format';
import { agrees } from '../constraints';
import { isFree, isLegalValue, listLegalValues } from '../values-of';
import { findDoubles, findUnknown, found, unless } from './finding';
import type { Finding } from './finding';

/** How many values can a listener tell apart and a screen show? */
const MOST_VALUES = 200;

/** Checks captures and what hangs on them. */
export function checkCaptures(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const ids = expanded.captures.map(({ id }) => id);
  return [
    ...expanded.captures.flatMap((capture) => [
      ...findUnknown(
        'unknown-name',
        `captures.${capture.id}.reliesOn`,
        'a capture',
        capture.reliesOn,
        ids,
      ),
      ...unless(
        !capture.reliesOn.includes(capture.id),
        'relies-on-itself',
        `captures.${capture.id}.reliesOn`,
        'another capture',
        capture.id,
      ),
      ...checkValues(capture),
    ]),
    ...procedure.derived.flatMap((spec) => checkDerived(spec, expanded)),
    ...procedure.constraints.flatMap((spec) => checkConstraint(spec, expanded)),
  ];
}

function checkValues(capture: Capture): readonly Finding[] {
  const path = `captures.${capture.id}`;
  if (capture.kind === 'choice') {
    return [
      ...findDoubles(
        'options-alike',
        `${path}.options`,
        capture.options.map(({ id }) => id),
      ),
      ...findDoubles(
        'options-alike',
        `${path}.options.say`,
        capture.options.map(({ say }) => say),
      ),
      ...findDoubles(
        'options-alike',
        `${path}.options.label`,
        capture.options.map(({ label }) => label),
      ),
    ];
  }
  if (capture.kind !== 'number' && capture.kind !== 'quantity') return [];
  const { values } = capture;
  return [
    ...findDoubles('values-faulty', `${path}.values`, values.map(String)),
    ...unless(
      values.length > 0 && values.length <= MOST_VALUES,
      'values-faulty',
      `${path}.values`,
      `1 to ${MOST_VALUES} values`,
      String(values.length),
    ),
    ...unless(
      values.every((value, index) => value >= (values[index - 1] ?? value)),
      'values-faulty',
      `${path}.values`,
      'values from small to large',
      values.slice(0, 6).join(', '),
    ),
  ];
}

function checkDerived(spec: DerivedSpec, { captures }: Expanded): readonly Finding[] {
  const path = `derived.${spec.id}`;
  const source = captures.find(({ id }) => id === spec.from);
  if (!source) return [found('unknown-name', `${path}.from`, 'a capture of this file', spec.from)];
  if (source.kind !== 'number' && source.kind !== 'quantity') {
    return [found('derived-faulty', `${path}.from`, 'a captured number', source.kind)];
  }
  const { table } = spec;
  const lacking = table
    ? source.values.filter((value) => !table.some(({ of }) => of === value))
    : [];
  return [
    ...unless(
      lacking.length === 0,
      'derived-faulty',
      `${path}.table`,
      'a line for every value',
      `none for ${lacking.join(', ')}`,
    ),
    ...unless(
      table !== undefined || spec.plus !== 0,
      'derived-faulty',
      path,
      'an addition or a table',
      'neither',
    ),
  ];
}

function checkConstraint(spec: ConstraintSpec, { captures }: Expanded): readonly Finding[] {
  const path = `constraints.${spec.id}`;
  const capture = captures.find(({ id }) => id === spec.capture);
  const other = captures.find(({ id }) => id === spec.to);
  if (!capture)
    return [found('unknown-name', `${path}.capture`, 'a capture of this file', spec.capture)];
  if (!other) return [found('unknown-name', `${path}.to`, 'a capture of this file', spec.to)];
  const isOrdered = spec.relation === 'at-least' || spec.relation === 'at-most';
  const areNumbers = [capture, other].every(({ kind }) => kind === 'number' || kind === 'quantity');
  const pairs = spec.pairs ?? [];
  const strays = pairs.flatMap(({ of, are }) => [
    ...(isLegalValue(other, of) ? [] : [of]),
    ...are.filter((value) => !isLegalValue(capture, value)),
  ]);
  const isAnyFree = isFree(capture) || isFree(other);
  const bad = (holds: boolean, place: string, expected: string, received: string) =>
    unless(holds, 'constraint-faulty', place, expected, received);
  const kinds = `${capture.kind}, ${other.kind}`;
  const faults = [
    ...bad(capture !== other, path, 'two different captures', spec.to),
    ...bad(!isAnyFree, path, 'captures with a list of values', kinds),
    ...bad(!isOrdered || areNumbers, path, 'two numbers to compare', kinds),
    ...bad(
      (spec.relation === 'goes-with') === pairs.length > 0,
      `${path}.pairs`,
      'pairs for goes-with, and only there',
      `${pairs.length} pairs`,
    ),
    ...bad(strays.length === 0, `${path}.pairs`, 'values of the two captures', strays.join(', ')),
  ];
  return faults.length > 0 ? faults : checkPartners(spec, path, capture, other);
}

/** Whether each value of the other capture leaves a value that may be taken. */
function checkPartners(
  spec: ConstraintSpec,
  path: string,
  capture: Capture,
  other: Capture,
): readonly Finding[] {
  const values = listLegalValues(capture).map(({ value }) => value);
  const alone = listLegalValues(other).filter(
    ({ value }) => !values.some((own) => agrees(spec, own, value)),
  );
  if (alone.length === 0) return [];
  const texts = alone.map(({ text }) => text).join(', ');
  const wanted = `a value of "${capture.id}" for each of "${other.id}"`;
  if (alone.length === listLegalValues(other).length)
    return [found('constraint-impossible', path, wanted, 'none for any')];
  return unless(
    spec.onBreak !== 'refuse',
    'constraint-leaves-none',
    path,
    wanted,
    `none for ${texts}`,
  );
}
