/** Captures, derived values and constraints: ranges that hold something, names that exist. */
import type { Expanded } from '../expanded';
import type { ConstraintSpec, DerivedSpec, Procedure } from '../format';
import { isFree, isLegalValue } from '../values-of';
import { findDoubles, findUnknown, found, unless } from './finding';
import type { Finding } from './finding';

/** How many values can a listener tell apart and a screen show? */
const MOST_VALUES = 200;

/** Checks captures and what hangs on them. */
export function checkCaptures(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const ids = expanded.captures.map(({ id }) => id);
  return [
    ...expanded.captures.flatMap((capture) => [
      ...findUnknown(`captures.${capture.id}.reliesOn`, 'a capture', capture.reliesOn, ids),
      ...unless(
        !capture.reliesOn.includes(capture.id),
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

function checkValues(capture: Expanded['captures'][number]): readonly Finding[] {
  const path = `captures.${capture.id}`;
  if (capture.kind === 'choice') {
    return [
      ...findDoubles(
        `${path}.options`,
        capture.options.map(({ id }) => id),
      ),
      ...findDoubles(
        `${path}.options.say`,
        capture.options.map(({ say }) => say),
      ),
    ];
  }
  if (capture.kind !== 'number' && capture.kind !== 'quantity') return [];
  const { values } = capture;
  return [
    ...findDoubles(`${path}.values`, values.map(String)),
    ...unless(
      values.length > 0 && values.length <= MOST_VALUES,
      `${path}.values`,
      `1 to ${MOST_VALUES} values`,
      String(values.length),
    ),
    ...unless(
      values.every((value, index) => value >= (values[index - 1] ?? value)),
      `${path}.values`,
      'values from small to large',
      values.slice(0, 6).join(', '),
    ),
  ];
}

function checkDerived(spec: DerivedSpec, { captures }: Expanded): readonly Finding[] {
  const path = `derived.${spec.id}`;
  const source = captures.find(({ id }) => id === spec.from);
  if (!source) return [found(`${path}.from`, 'a capture of this file', spec.from)];
  if (source.kind !== 'number' && source.kind !== 'quantity') {
    return [found(`${path}.from`, 'a captured number', source.kind)];
  }
  const { table } = spec;
  const lacking = table
    ? source.values.filter((value) => !table.some(({ of }) => of === value))
    : [];
  return [
    ...unless(
      lacking.length === 0,
      `${path}.table`,
      'a line for every value',
      `none for ${lacking.join(', ')}`,
    ),
    ...unless(table !== undefined || spec.plus !== 0, path, 'an addition or a table', 'neither'),
  ];
}

function checkConstraint(spec: ConstraintSpec, { captures }: Expanded): readonly Finding[] {
  const path = `constraints.${spec.id}`;
  const capture = captures.find(({ id }) => id === spec.capture);
  const other = captures.find(({ id }) => id === spec.to);
  if (!capture) return [found(`${path}.capture`, 'a capture of this file', spec.capture)];
  if (!other) return [found(`${path}.to`, 'a capture of this file', spec.to)];
  const isOrdered = spec.relation === 'at-least' || spec.relation === 'at-most';
  const areNumbers = [capture, other].every(({ kind }) => kind === 'number' || kind === 'quantity');
  const pairs = spec.pairs ?? [];
  const strays = pairs.flatMap(({ of, are }) => [
    ...(isLegalValue(other, of) ? [] : [of]),
    ...are.filter((value) => !isLegalValue(capture, value)),
  ]);
  return [
    ...unless(capture !== other, path, 'two different captures', spec.to),
    ...unless(
      !isFree(capture) && !isFree(other),
      path,
      'captures with a list of values',
      `${capture.kind}, ${other.kind}`,
    ),
    ...unless(
      !isOrdered || areNumbers,
      path,
      'two numbers to compare',
      `${capture.kind}, ${other.kind}`,
    ),
    ...unless(
      (spec.relation === 'goes-with') === pairs.length > 0,
      `${path}.pairs`,
      'pairs for goes-with, and only there',
      `${pairs.length} pairs`,
    ),
    ...unless(
      strays.length === 0,
      `${path}.pairs`,
      'values of the two captures',
      strays.join(', '),
    ),
  ];
}
