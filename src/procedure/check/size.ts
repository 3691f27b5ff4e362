/**
 * What must hold before a file is written out at all: it is not too large, and the
 * items of its repeats are fit to be parts of ids. Everything after this may cost
 * time that grows with the square of the file.
 */
import { listPhases } from '../expand';
import type { CaptureSpec, PhaseSpec, Procedure } from '../format';
import { findDoubles, found, unless } from './finding';
import type { Finding } from './finding';

/** How large may an operation be? Several times the largest built-in one; a full walk would be cut short long before. */
const MOST = {
  steps: 400,
  captures: 300,
  capturesOfStep: 12,
  values: 6000,
  holdPoints: 300,
  alternatives: 24,
  lists: 200,
  pairs: 400,
} as const;

/** How many values can a listener tell apart and a screen show? */
const MOST_VALUES = 200;

const ITEM = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;

/** Checks sizes and items; what it lets pass can be written out. */
export function checkSize(procedure: Procedure): readonly Finding[] {
  return [...checkWritable(procedure), ...checkStrays(procedure, phasesOf(procedure))];
}

/** Whether it can be written out at all, with the limits taken so many times. */
export function checkWritable(procedure: Procedure, times = 1): readonly Finding[] {
  const phases = phasesOf(procedure);
  const repeats = repeatsOf(phases);
  const items = new Set(repeats.flatMap((repeat) => repeat.items)).size;
  const captures = [
    ...procedure.captures,
    ...repeats.flatMap((repeat) => repeat.items.flatMap(() => repeat.captures)),
  ];
  const steps = phases.flatMap(stepsOf);
  const holdPoints = procedure.holdPoints.map(({ id, needs }) =>
    id.includes('{item}') ? items * needs.length : needs.length,
  );
  const atMost = (path: string, most: number, count: number) =>
    unless(count <= most * times, 'too-large', path, `at most ${most * times}`, String(count));
  return [
    ...atMost('steps', MOST.steps, steps.length),
    ...atMost('captures', MOST.captures, captures.length),
    ...atMost('values', MOST.values, sum(captures.map(countValues))),
    ...atMost('holdPoints', MOST.holdPoints, sum(holdPoints)),
    ...atMost('alternatives', MOST.alternatives, sum(procedure.tracks.map((track) => track.alternatives.length))),
    ...(['instruments', 'roles', 'holdReasons', 'derived', 'constraints', 'timers', 'tallies', 'counts', 'countItems'] as const)
      .flatMap((list) => atMost(list, MOST.lists, procedure[list].length)),
    ...procedure.constraints.flatMap(({ id, pairs = [] }) =>
      atMost(`constraints.${id}.pairs`, MOST.pairs, sum(pairs.map(({ are }) => are.length))),
    ),
    ...steps.flatMap(({ id, captures: taken, uses, checklist = [] }) =>
      atMost(`steps.${id}`, MOST.capturesOfStep, Math.max(taken.length, uses.length, checklist.length)),
    ),
    ...captures.flatMap((capture) =>
      unless(
        countValues(capture) <= MOST_VALUES * times,
        'values-faulty',
        `captures.${capture.id}.values`,
        `1 to ${MOST_VALUES * times} values`,
        String(countValues(capture)),
      ),
    ),
    ...repeats.flatMap(checkItems),
  ]; // prettier-ignore
}

function phasesOf({ tracks }: Procedure): readonly PhaseSpec[] {
  return tracks.flatMap((track) => listPhases(track).map(({ phase }) => phase));
}

function repeatsOf(phases: readonly PhaseSpec[]) {
  return phases.flatMap(({ steps }) =>
    steps.flatMap((entry) => ('repeat' in entry ? [entry.repeat] : [])),
  );
}

function stepsOf({ steps }: PhaseSpec) {
  return steps.flatMap((entry) =>
    'repeat' in entry ? entry.repeat.items.flatMap(() => entry.repeat.steps) : [entry],
  );
}

function countValues(capture: CaptureSpec): number {
  if (capture.kind === 'choice') return capture.options.length;
  if (capture.kind !== 'number' && capture.kind !== 'quantity') return 0;
  const { values } = capture;
  return 'from' in values
    ? Math.floor((values.to - values.from) / values.step + 1e-9) + 1
    : values.length;
}

function checkItems({ id, items }: { readonly id: string; readonly items: readonly string[] }) {
  const path = `repeats.${id}.items`;
  return [
    ...findDoubles('item-not-an-id', path, items),
    ...items
      .filter((item) => !ITEM.test(item))
      .map((item) => found('item-not-an-id', path, 'lower-case letters and digits', item)),
  ];
}

/** `{item}` where nothing will replace it. */
function checkStrays(procedure: Procedure, phases: readonly PhaseSpec[]): readonly Finding[] {
  const plain = phases.flatMap(({ id, title, steps }) => [
    { path: `phases.${id}`, data: { id, title } as unknown },
    ...steps.flatMap((entry) =>
      'repeat' in entry
        ? [{ path: `repeats.${entry.repeat.id}`, data: { ...entry.repeat, captures: 0, steps: 0 } as unknown }]
        : [{ path: `steps.${entry.id}`, data: entry as unknown }],
    ),
  ]); // prettier-ignore
  const { tracks, holdPoints, ...rest } = procedure;
  const places = [
    { path: 'procedure', data: rest as unknown },
    ...plain,
    ...tracks.map(({ alternatives, ...track }) => ({
      path: `tracks.${track.id}`,
      data: [
        { ...track, phases: 0 },
        alternatives.map((other) => ({ ...other, phase: 0 })),
      ] as unknown,
    })),
    ...holdPoints
      .filter(({ id }) => !id.includes('{item}'))
      .map((point) => ({ path: `holdPoints.${point.id}`, data: point as unknown })),
  ];
  return places
    .filter(({ data }) => JSON.stringify(data).includes('{item}'))
    .map(({ path }) => found('item-outside-repeat', path, 'a text without {item}', '{item}'));
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
