/**
 * Walks every state that orders can reach, depth first. Captures take one or two
 * representative values, and an offer with its confirmation counts as one move:
 * neither changes which hold points exist, and both keep the walk small. Serves the
 * checker and the proofs in the tests.
 */
import { asId } from '../domain';
import type { CaptureId, CaptureValue, Order, Source, SpokenOrder, TimerId } from '../domain';
import type { CompiledProcedure } from './compile';
import { decideWithState } from './decide';
import { createLiveKey, hasSkipped } from './live-key';
import { carryOut } from './settle';
import { listOpenChecks } from './finishing';
import { contextOf, initialState, positionOf } from './state';
import type { CaseState } from './state';
import { valuesThatMatter, WRITTEN } from './value-classes';
import { isFree } from './values-of';
import { listOpenCaptures, listPhrases } from './vocabulary';

/** What a walk found. */
export interface Exploration {
  readonly states: ReadonlyMap<string, CaseState>;
  /** The keys that each state leads to. */
  readonly edges: ReadonlyMap<string, readonly string[]>;
  /** False where the walk was cut short. */
  readonly isComplete: boolean;
}

interface ExploreOptions {
  /** Lets the desk leave out one step, anywhere, once. */
  readonly withSkip?: boolean;
  readonly stopAt?: (state: CaseState) => boolean;
  /** Values to try; those that matter to the procedure where nothing is given. */
  readonly values?: ReadonlyMap<CaptureId, ReadonlySet<CaptureValue>>;
  /** After how many states the walk is cut short. */
  readonly most?: number;
  /** Goes back as well, and tells all states apart; otherwise see live-key.ts. */
  readonly isFull?: boolean;
}

/** Equal for equal situations: positions, sizes, answers, passed steps, overrides, the clock. */
export function stateKey(state: CaseState): string {
  const context = contextOf(state);
  const sorted = (map: object) => Object.entries(map).sort(([a], [b]) => (a < b ? -1 : 1));
  return JSON.stringify([
    state.value,
    sorted(context.confirmed),
    sorted(context.doubtful),
    context.changing,
    sorted(context.passed),
    sorted(context.chosen),
    sorted(context.checks),
    sorted(context.counted),
    sorted(context.handedOut),
    sorted(context.running),
    sorted(context.overridden),
    context.isReliefDue,
    context.packsAgree,
    context.isClockHeld,
  ]);
}

/** The state in which a case opens. */
export function openingState(compiled: CompiledProcedure): CaseState {
  return carryOut(compiled, initialState(compiled), []).state;
}

/** The state after one order, or the same state where it is refused. */
export function follow(
  compiled: CompiledProcedure,
  state: CaseState,
  order: Order,
  source: Source = 'voice',
): CaseState {
  const decided = decideWithState(compiled, state, order, source);
  return decided.ok ? decided.value.state : state;
}

/** Orders that move steps forward; the others leave the walk where it is. */
const MOVING: readonly Order['type'][] = [
  'step.begin',
  'step.finish',
  'step.leaveOut',
  'step.reportAhead',
  'group.finish',
  'alternative.choose',
];

function movesFrom(
  compiled: CompiledProcedure,
  state: CaseState,
  values: ReadonlyMap<CaptureId, ReadonlySet<CaptureValue>>,
  moving: readonly Order['type'][],
): readonly CaseState[] {
  const tried = new Set<string>();
  const phrases = listPhrases(compiled, state);
  const written = listOpenCaptures(compiled, state).filter(isFree);
  return [
    ...answersFrom(compiled, state, phrases),
    // The desk may start a timer that a hold point asks for; going back leaves one running.
    ...timersAskedFor(compiled).map((timer) =>
      follow(compiled, state, { type: 'timer.start', timer }, 'desk'),
    ),
    ...packsComparedIn(compiled, state),
    // Notes and labels are typed or scanned, never said.
    ...written.map(({ id }) => {
      const order: Order = { type: 'capture.offer', capture: id, value: WRITTEN };
      return confirmed(compiled, follow(compiled, state, order, 'desk'));
    }),
    ...phrases.flatMap(({ order }) => {
      // From the desk, which may also go back where that reopens another track's steps.
      if (order.type !== 'capture.offer')
        return moving.includes(order.type) ? [follow(compiled, state, order, 'desk')] : [];
      const key = `${order.capture}=${order.value}`;
      if (tried.has(key) || !values.get(order.capture)?.has(order.value)) return [];
      tried.add(key);
      return [confirmed(compiled, follow(compiled, state, order))];
    }),
  ];
}

/** All that is to be answered or counted at a step, at once: the order in which that is done settles nothing. */
function answersFrom(
  compiled: CompiledProcedure,
  state: CaseState,
  phrases: readonly SpokenOrder[],
): readonly CaseState[] {
  const checks = compiled.tracks.flatMap((track): Order[] => {
    const position = positionOf(compiled, state, track);
    return position.kind === 'doing'
      ? listOpenChecks(position.step, contextOf(state)).map(({ id }) => ({
          type: 'check.answer',
          step: position.step.id,
          item: asId(id),
          answer: 'yes',
        }))
      : [];
  });
  const counts = phrases.flatMap(({ order }) =>
    order.type === 'count.record' && order.value !== null ? [order] : [],
  );
  const differing = phrases.find(({ order }) => order.type === 'count.record' && !order.value);
  return [checks, counts, differing ? [differing.order] : []].flatMap((orders) =>
    orders.length > 0 ? [orders.reduce((next, order) => follow(compiled, next, order), state)] : [],
  );
}

function timersAskedFor({ holdPoints }: CompiledProcedure): readonly TimerId[] {
  return [...holdPoints.values()].flatMap(({ needs }) =>
    needs.flatMap((need) => (need.type === 'running' ? [asId<TimerId>(need.timer)] : [])),
  );
}

/** Packs are scanned when their hold point is come to; earlier or later, what follows is the same. */
function packsComparedIn(compiled: CompiledProcedure, state: CaseState): readonly CaseState[] {
  const isAskedFor = compiled.tracks.some((track) => {
    const position = positionOf(compiled, state, track);
    const point = position.kind === 'waiting' && compiled.holdPointOfStep.get(position.step.id);
    return point && point.needs.some(({ type }) => type === 'reconciled');
  });
  return isAskedFor && !contextOf(state).packsAgree
    ? [carryOut(compiled, state, [{ type: 'packs.compared', data: { agree: true } }]).state]
    : [];
}

/** Confirms what was offered, twice where it is asked twice. */
function confirmed(compiled: CompiledProcedure, state: CaseState): CaseState {
  const once = follow(compiled, state, { type: 'capture.confirm' });
  return contextOf(once).isQuestioned ? follow(compiled, once, { type: 'capture.confirm' }) : once;
}

/** The state after the desk leaves a track's step out, once in a case. */
function skipsFrom(compiled: CompiledProcedure, state: CaseState): readonly CaseState[] {
  if (hasSkipped(compiled, contextOf(state))) return [];
  return compiled.tracks.map((track) =>
    follow(compiled, state, { type: 'step.skip', track, reason: 'tried by the walk' }, 'desk'),
  );
}

/** Every reachable state, by key. Stops early where `stopAt` says so. */
export function explore(
  compiled: CompiledProcedure,
  {
    withSkip = false,
    stopAt = () => false,
    most = 200_000,
    isFull = false,
    ...options
  }: ExploreOptions = {},
): Exploration {
  const values = options.values ?? valuesThatMatter(compiled);
  const keyOf = isFull ? stateKey : createLiveKey(compiled);
  const moving = isFull ? [...MOVING, 'step.goBack' as const] : MOVING;
  const start = openingState(compiled);
  const states = new Map([[keyOf(start), start]]);
  const edges = new Map<string, readonly string[]>();
  const queue: (readonly [string, CaseState])[] = [[keyOf(start), start]];
  for (let item = queue.pop(); item !== undefined; item = queue.pop()) {
    const [from, state] = item;
    if (stopAt(state)) break;
    const next = [
      ...movesFrom(compiled, state, values, moving),
      ...(withSkip ? skipsFrom(compiled, state) : []),
    ].map((found) => [keyOf(found), found] as const);
    edges.set(
      from,
      next.map(([key]) => key),
    );
    for (const [key, found] of next) {
      if (states.has(key)) continue;
      if (states.size >= most) return { states, edges, isComplete: false };
      states.set(key, found);
      queue.push([key, found]);
    }
  }
  return { states, edges, isComplete: true };
}
