/**
 * What only shows when a procedure is walked through: steps that are never reached, hold
 * points that never open, places without a way to the end, texts that show a size too
 * early. Of several findings with one cause, the first on the line is told.
 */
import type { CaptureId, StepId, TrackId } from '../../domain';
import type { CompiledProcedure } from '../compile';
import { isOpen } from '../conditions';
import type { HoldPoint, Step } from '../expanded';
import type { Exploration } from '../explore';
import { contextOf, positionOf } from '../state';
import type { CaseState } from '../state';
import { found } from './finding';
import type { Finding } from './finding';

/** Findings of a walk; of one that was cut short, only what it saw. */
export function checkWalk(compiled: CompiledProcedure, walk: Exploration): readonly Finding[] {
  const early = findEarlyTexts(compiled, walk);
  if (!walk.isComplete) return early;
  const seen = look(compiled, walk);
  const closed = findClosed(compiled, seen);
  const unreached = findUnreached(compiled, seen, closed);
  const roots = [
    ...closed.map(({ id }) =>
      found('hold-never-opens', `holdPoints.${id}`, 'needs that can be met together', 'none are'),
    ),
    ...unreached,
  ];
  return [...(roots.length > 0 ? roots : findStuck(compiled, walk)), ...early];
}

interface Seen {
  readonly begun: ReadonlySet<StepId>;
  readonly confirmed: ReadonlySet<string>;
  readonly opened: ReadonlySet<string>;
}

function look(compiled: CompiledProcedure, { states }: Exploration): Seen {
  const begun = new Set<StepId>();
  const confirmed = new Set<string>();
  const opened = new Set<string>();
  for (const state of states.values()) {
    const context = contextOf(state);
    for (const id of Object.keys(context.confirmed)) confirmed.add(id);
    for (const id of doingIn(compiled, state)) begun.add(id.id);
    for (const point of compiled.holdPoints.values()) {
      if (!opened.has(point.id) && isOpen(compiled, point, context)) opened.add(point.id);
    }
  }
  return { begun, confirmed, opened };
}

function doingIn(compiled: CompiledProcedure, state: CaseState): readonly Step[] {
  return compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, state, track);
    return position.kind === 'doing' ? [position.step] : [];
  });
}

/** Hold points that stand closed in every state, though somebody comes to stand before them. */
function findClosed(
  { holdPoints, steps, stepsOfTrack }: CompiledProcedure,
  { begun, confirmed, opened }: Seen,
): readonly HoldPoint[] {
  return [...holdPoints.values()].filter(({ id, guards }) => {
    if (guards.type === 'capture') {
      const taker = [...steps.values()].find((step) => step.captures.includes(guards.capture));
      return taker !== undefined && begun.has(taker.id) && !confirmed.has(guards.capture);
    }
    const step = steps.get(guards.step);
    const line = step ? (stepsOfTrack.get(step.track) ?? []) : [];
    const isReached =
      step !== undefined && (line[0] === step || comesFrom(line, step).some((id) => begun.has(id)));
    return !opened.has(id) && isReached;
  });
}

/** Steps that nothing reaches though the one before is reached; not those behind a closed hold point. */
function findUnreached(
  { steps, stepsOfTrack, alternatives }: CompiledProcedure,
  { begun }: Seen,
  closed: readonly HoldPoint[],
): readonly Finding[] {
  const isExplained = (step: Step) =>
    closed.some(({ guards }) => guards.type === 'step' && guards.step === step.id);
  return [...steps.values()].flatMap((step) => {
    if (begun.has(step.id) || isExplained(step)) return [];
    const line = stepsOfTrack.get(step.track) ?? [];
    const before = comesFrom(line, step);
    const way = step.alternative && alternatives.get(step.alternative);
    const isRoot =
      before.length === 0
        ? !way || way.at.some((id) => begun.has(id))
        : before.some((id) => begun.has(id)) && !closed.some(isTakenIn(steps, before));
    const text = 'no sequence of orders reaches it';
    return isRoot ? [found('never-begins', `steps.${step.id}`, 'a step that is reached', text)] : [];
  }); // prettier-ignore
}

/** Whether a hold point guards a capture of one of these steps, which then never end. */
function isTakenIn(steps: CompiledProcedure['steps'], ids: readonly StepId[]) {
  return ({ guards }: HoldPoint) =>
    guards.type === 'capture' &&
    ids.some((id) => steps.get(id)?.captures.includes(guards.capture) ?? false);
}

function comesFrom(line: readonly Step[], { id }: Step): readonly StepId[] {
  return line.filter(({ next, exit }) => next === id || exit?.next === id).map((step) => step.id);
}

/** On each track the farthest step from which the end can't be reached. */
function findStuck(
  compiled: CompiledProcedure,
  { states, edges }: Exploration,
): readonly Finding[] {
  const good = reachEnd(compiled, { states, edges });
  const stuck = new Set<StepId>();
  for (const [key, state] of states) {
    if (good.has(key)) continue;
    for (const track of compiled.tracks) {
      const position = positionOf(compiled, state, track);
      if (position.kind !== 'done') stuck.add(position.step.id);
    }
  }
  // A track that is done somewhere only waits for the others.
  const isEverDone = (track: TrackId) =>
    [...states.values()].some((state) => positionOf(compiled, state, track).kind === 'done');
  const blamed = compiled.tracks.filter((track) => !isEverDone(track));
  return (blamed.length > 0 ? blamed : compiled.tracks).flatMap((track) => {
    const last = compiled.stepsOfTrack.get(track)?.findLast(({ id }) => stuck.has(id));
    const text = 'from here it can’t be reached without the desk';
    return last ? [found('no-way-to-the-end', `steps.${last.id}`, 'a way to the end', text)] : [];
  });
}

/** The states from which the end can be reached. */
function reachEnd(
  compiled: CompiledProcedure,
  { states, edges }: Pick<Exploration, 'states' | 'edges'>,
): ReadonlySet<string> {
  const before = new Map<string, string[]>();
  for (const [from, targets] of edges) {
    for (const to of targets) {
      const known = before.get(to);
      if (known) known.push(from);
      else before.set(to, [from]);
    }
  }
  const isEnd = (state: CaseState) =>
    compiled.tracks.every((track) => positionOf(compiled, state, track).kind === 'done');
  const good = new Set([...states].filter(([, state]) => isEnd(state)).map(([key]) => key));
  const queue = [...good];
  for (let key = queue.pop(); key !== undefined; key = queue.pop()) {
    for (const earlier of before.get(key) ?? []) {
      if (good.has(earlier)) continue;
      good.add(earlier);
      queue.push(earlier);
    }
  }
  return good;
}

function findEarlyTexts(compiled: CompiledProcedure, { states }: Exploration): readonly Finding[] {
  const sources = new Map(compiled.procedure.derived.map(({ id, from }) => [id, from]));
  const early = new Map<string, Finding>();
  for (const state of states.values()) {
    const { confirmed } = contextOf(state);
    for (const { id, title, detail, cue, captures } of doingIn(compiled, state)) {
      for (const [, name = ''] of `${title} ${detail} ${cue}`.matchAll(/\{([a-z0-9-]+)\}/g)) {
        const capture = (sources.get(name) ?? name) as CaptureId;
        const key = `${id} ${name}`;
        if (early.has(key) || captures.includes(capture) || capture in confirmed) continue;
        early.set(
          key,
          found('value-before-capture', `steps.${id}`, `“${name}” known by then`, 'not always'),
        );
      }
    }
  }
  return [...early.values()];
}
