/**
 * A shorter key for walks that only go forward. Two states with equal keys have the
 * same future, so one of them stands for both:
 * - A capture, a passed step, a choice, a count or a timer acts on the future only
 *   through a hold point, a constraint, a text or a step that can still be reached, or
 *   through a hold point already passed whose source may still change (then the step is
 *   reopened). What has no such reader any more is dead and left out.
 * - Values are only told apart where something compares or names them (scalar sets in
 *   the sense of Ip and Dill, Better verification through symmetry, 1996).
 * Going back clears all from the reopened step on, so it leads to a state that going
 * forward reaches as well; tests/procedure/proofs.test.ts checks that for all states of
 * the short procedures and by random walks for the long ones.
 */
import { asId } from '../domain';
import type { CaptureId, CaptureValue, CountId, StepId, TimerId } from '../domain';
import type { CompiledProcedure } from './compile';
import type { CaseContext } from './context';
import type { Step } from './expanded';
import type { ConditionSpec, UnlessSpec } from './format';
import { contextOf, positionOf, positionsOf } from './state';
import type { CaseState } from './state';
import { createValueNames } from './value-classes';

/** Something of the context that can be read: `capture:depth`, `passed:ream`, `chosen:graft`. */
type Cell = string;

/** Who reads which cells, and which step gives a cell its value. */
interface Readers {
  /** Steps whose beginning, captures or texts look at a cell. */
  readonly of: ReadonlyMap<Cell, ReadonlySet<StepId>>;
  /** Of these, the ones that are reopened where it no longer holds. */
  readonly watched: ReadonlyMap<Cell, ReadonlySet<StepId>>;
  readonly sources: ReadonlyMap<Cell, readonly StepId[]>;
}

/** Makes the key function of one procedure. */
export function createLiveKey(compiled: CompiledProcedure): (state: CaseState) => string {
  const readers = findReaders(compiled);
  const toName = createValueNames(compiled);
  const lines = new Map(
    [...compiled.steps.values()].map((step) => [step, lineAhead(compiled, step)]),
  );
  return (state) => {
    const context = contextOf(state);
    const ahead = new Set(
      compiled.tracks.flatMap((track) => {
        const position = positionOf(compiled, state, track);
        return position.kind === 'done' ? [] : (lines.get(position.step) ?? []);
      }),
    );
    const inHand = new Set(
      compiled.tracks.flatMap((track) => {
        const position = positionOf(compiled, state, track);
        return position.kind === 'doing' ? [position.step.id] : [];
      }),
    );
    const isLive = (cell: Cell) =>
      [...(readers.of.get(cell) ?? [])].some((id) => ahead.has(id)) ||
      (readers.of.has(cell) && (readers.sources.get(cell) ?? []).some((id) => ahead.has(id)));
    const cells = [
      ...captureCells(compiled, context, inHand, isLive, toName),
      ...passedCells(compiled, context, readers, ahead, isLive),
      ...Object.keys(context.chosen).filter((id) => isLive(`chosen:${id}`)),
      ...Object.entries(context.counted)
        .filter(([id]) => isLive(`count:${id}`) || isTaken(compiled, id, inHand))
        .map(([id, results]) => `${id}=${JSON.stringify(Object.entries(results).sort())}`),
      ...Object.keys(context.running).filter((id) => isLive(`timer:${id}`)),
      ...Object.keys(context.checks).filter((key) => inHand.has(asId(key.split('/')[0] ?? ''))),
    ].sort();
    return JSON.stringify([
      positionsOf(state),
      cells,
      // The first count, while still to come, settles what was handed out anew.
      isBaselineAhead(compiled, ahead) ? [] : Object.keys(context.handedOut),
      context.doubtful,
      context.changing,
      context.overridden,
      isLive('packs') && context.packsAgree,
      context.isReliefDue,
      context.isClockHeld,
      hasSkipped(compiled, context),
    ]);
  };
}

function isBaselineAhead({ procedure, steps }: CompiledProcedure, ahead: ReadonlySet<StepId>) {
  const baseline = procedure.counts.find(({ kind }) => kind === 'baseline')?.id;
  return [...ahead].some((id) => steps.get(id)?.count === baseline);
}

/** Whether the desk left out a step that is not optional. */
export function hasSkipped({ steps }: CompiledProcedure, { passed }: CaseContext): boolean {
  return [...steps.values()].some(
    ({ id, optional }) => optional === null && passed[id] === 'skipped',
  );
}

/** The steps that a track can still come to from one on, that one and those of its loops among them. */
function lineAhead(compiled: CompiledProcedure, step: Step): readonly StepId[] {
  const line = compiled.stepsOfTrack.get(step.track) ?? [];
  const place = line.indexOf(step);
  // A loop that can still be taken and leads to before this step.
  const loops = line
    .slice(place)
    .flatMap(({ loop }) => (loop ? [line.findIndex(({ id }) => id === loop.backTo)] : []));
  const rest = line.slice(Math.min(place, ...loops));
  const isOpen = (alternative: Step['alternative']) =>
    alternative === null ||
    alternative === step.alternative ||
    rest.some(({ id }) => compiled.alternatives.get(alternative)?.at.includes(id));
  return rest.filter(({ alternative }) => isOpen(alternative)).map(({ id }) => id);
}

function captureCells(
  compiled: CompiledProcedure,
  { confirmed }: CaseContext,
  inHand: ReadonlySet<StepId>,
  isLive: (cell: Cell) => boolean,
  toName: (values: readonly (readonly [string, CaptureValue])[]) => readonly string[],
): readonly string[] {
  const open = new Set([...inHand].flatMap((id) => compiled.steps.get(id)?.captures ?? []));
  return toName(
    Object.entries(confirmed).filter(
      ([id]) => open.has(asId<CaptureId>(id)) || isLive(`capture:${id}`),
    ),
  );
}

/** Named by a condition; done before its turn; or still watched because its hold point may close. */
function passedCells(
  { steps }: CompiledProcedure,
  { passed }: CaseContext,
  { watched: watchers, sources }: Readers,
  ahead: ReadonlySet<StepId>,
  isLive: (cell: Cell) => boolean,
): readonly string[] {
  const watched = new Set(
    [...watchers].flatMap(([cell, readers]) =>
      (sources.get(cell) ?? []).some((id) => ahead.has(id)) ? [...readers] : [],
    ),
  );
  return Object.entries(passed)
    .filter(([key]) => {
      const id = asId<StepId>(key);
      return isLive(`passed:${id}`) || watched.has(id) || (!!steps.get(id)?.ahead && ahead.has(id));
    })
    .map(([id, how]) => `${id}:${how}`);
}

function isTaken({ steps }: CompiledProcedure, count: string, inHand: ReadonlySet<StepId>) {
  return [...inHand].some((id) => steps.get(id)?.count === asId<CountId>(count));
}

/** Finds what each step looks at before it begins, while it is in hand, and in its texts. */
function findReaders(compiled: CompiledProcedure): Readers {
  const takers = new Map<string, StepId>(
    [...compiled.steps.values()].flatMap(({ id, captures }) =>
      captures.map((capture) => [capture, id] as const),
    ),
  );
  const watched = groupReaders(listWatchers(compiled, takers));
  const of = groupReaders([...listWatchers(compiled, takers), ...listLookers(compiled)]);
  return { of, watched, sources: findSources(compiled, takers) };
}

function groupReaders(
  pairs: readonly (readonly [Cell, StepId])[],
): ReadonlyMap<Cell, ReadonlySet<StepId>> {
  const groups = new Map<Cell, Set<StepId>>();
  for (const [cell, step] of pairs) groups.set(cell, (groups.get(cell) ?? new Set()).add(step));
  return groups;
}

/** Steps that stand on a cell: by a hold point, or by a constraint between two captures. */
function listWatchers(
  { holdPoints, procedure }: CompiledProcedure,
  takers: ReadonlyMap<string, StepId>,
): readonly (readonly [Cell, StepId])[] {
  const pairs = [
    ...[...holdPoints.values()].flatMap(({ guards, needs }) => {
      const step = guards.type === 'step' ? guards.step : takers.get(guards.capture);
      return needs.flatMap(cellsOfNeed).map((cell) => [cell, step] as const);
    }),
    ...procedure.constraints.map(
      ({ capture, to }) => [`capture:${to}`, takers.get(capture)] as const,
    ),
  ];
  return pairs.flatMap(([cell, step]) => (step ? [[cell, step] as const] : []));
}

/** Steps that only look at a cell: in a text, or for whether another way may be chosen. */
function listLookers({
  steps,
  procedure,
  alternatives,
}: CompiledProcedure): readonly (readonly [Cell, StepId])[] {
  const sourceOf = (name: string) =>
    procedure.derived.find((spec) => spec.id === name)?.from ?? name;
  return [
    ...[...steps.values()].flatMap(({ id, title, detail, cue }) =>
      [...`${title} ${detail} ${cue}`.matchAll(/\{([a-z0-9-]+)\}/g)].map(
        ([, name = '']) => [`capture:${sourceOf(name)}`, id] as const,
      ),
    ),
    ...[...alternatives.values()].flatMap(({ id, at }) =>
      at.map((step) => [`chosen:${id}`, step] as const),
    ),
  ];
}

function cellsOfNeed(need: ConditionSpec): readonly Cell[] {
  const cells: Record<ConditionSpec['type'], () => Cell> = {
    confirmed: () => `capture:${(need as { capture: string }).capture}`,
    is: () => `capture:${(need as { capture: string }).capture}`,
    same: () => `capture:${(need as { as: string }).as}`,
    finished: () => `passed:${(need as { step: string }).step}`,
    agrees: () => `count:${(need as { count: string }).count}`,
    running: () => `timer:${(need as { timer: string }).timer}`,
    reconciled: () => 'packs',
  };
  return [cells[need.type](), ...(need.unless ? [cellOfUnless(need.unless)] : [])];
}

function cellOfUnless(when: UnlessSpec): Cell {
  switch (when.type) {
    case 'chosen':
      return `chosen:${when.alternative}`;
    case 'is':
      return `capture:${when.capture}`;
    case 'skipped':
      return `passed:${when.step}`;
  }
}

/** The steps that give a cell its value or take it away. */
function findSources(
  { steps, procedure, alternatives }: CompiledProcedure,
  takers: ReadonlyMap<string, StepId>,
): ReadonlyMap<Cell, readonly StepId[]> {
  const all = [...steps.keys()];
  const entries: readonly (readonly [Cell, readonly StepId[]])[] = [
    ...[...takers].map(([capture, step]) => [`capture:${capture}`, [step]] as const),
    ...all.map((id) => [`passed:${id}`, [id]] as const),
    ...[...alternatives.values()].map(({ id, at }) => [`chosen:${id}`, at] as const),
    // A count can be taken again, and a timer stopped, at any time.
    ...procedure.counts.map(({ id }) => [`count:${id}`, all] as const),
    ...procedure.timers.map(
      ({ id, stops, stopSay }) =>
        [`timer:${asId<TimerId>(id)}`, stops || stopSay !== undefined ? all : []] as const,
    ),
  ];
  return new Map(entries);
}
