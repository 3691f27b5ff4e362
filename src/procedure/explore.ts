/**
 * Walks every state that orders can reach, depth first. Captures take one or two
 * representative values, and an offer with its confirmation counts as one move:
 * neither changes which hold points exist, and both keep the walk small. Serves the
 * checker and the proofs in the tests.
 */
import { asId } from '../domain';
import type { CaptureId, CaptureValue, Order, Source, SpokenOrder } from '../domain';
import type { CompiledProcedure } from './compile';
import { agrees } from './constraints';
import { decideWithState } from './decide';
import { carryOut } from './settle';
import { listOpenChecks } from './finishing';
import { contextOf, initialState, positionOf } from './state';
import type { CaseState } from './state';
import { isFree, listLegalValues } from './values-of';
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

/**
 * The values worth trying: those that a condition or a loop names and one that it does
 * not; two where a value is compared with another capture's; one otherwise.
 */
export function valuesThatMatter(
  compiled: CompiledProcedure,
): ReadonlyMap<CaptureId, ReadonlySet<CaptureValue>> {
  const needs = [...compiled.holdPoints.values()].flatMap((point) =>
    point.needs.map((need) => ({ need, guards: point.guards })),
  );
  const named = [
    ...needs.flatMap(({ need }) =>
      need.type === 'is' ? [[need.capture, need.value] as const] : [],
    ),
    ...[...compiled.steps.values()].flatMap(({ loop }) =>
      loop ? [[loop.capture, loop.is] as const] : [],
    ),
  ];
  const compared: readonly string[] = needs.flatMap(({ need, guards }) =>
    need.type === 'same' && guards.type === 'capture' ? [need.as, guards.capture] : [],
  );
  const waived = needs.flatMap(({ need }) =>
    need.unless?.type === 'is' ? [[need.unless.capture, need.unless.value] as const] : [],
  );
  const constrained = listConstrained(compiled);
  return new Map(
    [...compiled.captures.values()].map((capture) => {
      const all = isFree(capture)
        ? ['tried by the walk']
        : listLegalValues(capture).map(({ value }) => value);
      const own = [...named, ...waived, ...constrained]
        .filter(([id]) => id === capture.id)
        .map(([, value]) => value);
      const other = all.find((value) => !own.includes(value));
      const tried = compared.includes(capture.id) ? all.slice(0, 2) : [];
      return [capture.id, new Set([...own, ...tried, ...(other === undefined ? [] : [other])])];
    }),
  );
}

/** For each constraint, two values of the one capture and for each a value of the other that agrees with it. */
function listConstrained({
  procedure,
  captures,
}: CompiledProcedure): readonly (readonly [string, CaptureValue])[] {
  const valuesOf = (id: string) => {
    const capture = captures.get(asId(id));
    return capture ? listLegalValues(capture).map(({ value }) => value) : [];
  };
  return procedure.constraints.flatMap((constraint) =>
    valuesOf(constraint.to)
      .slice(0, 2)
      .flatMap((other): (readonly [string, CaptureValue])[] => {
        const fitting = valuesOf(constraint.capture).find((value) =>
          agrees(constraint, value, other),
        );
        return [
          [constraint.to, other],
          ...(fitting === undefined ? [] : [[constraint.capture, fitting] as const]),
        ];
      }),
  );
}

/** Spoken orders that move steps; the others leave the walk where it is. */
const MOVING: readonly Order['type'][] = [
  'step.begin',
  'step.finish',
  'step.goBack',
  'step.leaveOut',
  'step.reportAhead',
  'group.finish',
  'alternative.choose',
];

function movesFrom(
  compiled: CompiledProcedure,
  state: CaseState,
  values: ReadonlyMap<CaptureId, ReadonlySet<CaptureValue>>,
): readonly CaseState[] {
  const tried = new Set<string>();
  const phrases = listPhrases(compiled, state);
  const written = listOpenCaptures(compiled, state).filter(isFree);
  return [
    ...answersFrom(compiled, state, phrases),
    // Notes and labels are typed or scanned, never said.
    ...written.map(({ id }) => {
      const order: Order = { type: 'capture.offer', capture: id, value: 'tried by the walk' };
      return confirmed(compiled, follow(compiled, state, order, 'desk'));
    }),
    ...phrases.flatMap(({ order }) => {
      // From the desk, which may also go back where that reopens another track's steps.
      if (order.type !== 'capture.offer')
        return MOVING.includes(order.type) ? [follow(compiled, state, order, 'desk')] : [];
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
  return [checks, counts].flatMap((orders) =>
    orders.length > 0 ? [orders.reduce((next, order) => follow(compiled, next, order), state)] : [],
  );
}

/** Confirms what was offered, twice where it is asked twice. */
function confirmed(compiled: CompiledProcedure, state: CaseState): CaseState {
  const once = follow(compiled, state, { type: 'capture.confirm' });
  return contextOf(once).isQuestioned ? follow(compiled, once, { type: 'capture.confirm' }) : once;
}

/** The state after the desk leaves a track's step out, once in a case. */
function skipsFrom(compiled: CompiledProcedure, state: CaseState): readonly CaseState[] {
  if (Object.values(contextOf(state).passed).includes('skipped')) return [];
  return compiled.tracks.map((track) =>
    follow(compiled, state, { type: 'step.skip', track, reason: 'tried by the walk' }, 'desk'),
  );
}

/** Every reachable state, by key. Stops early where `stopAt` says so. */
export function explore(
  compiled: CompiledProcedure,
  { withSkip = false, stopAt = () => false, most = 200_000, ...options }: ExploreOptions = {},
): Exploration {
  const values = options.values ?? valuesThatMatter(compiled);
  const start = openingState(compiled);
  const states = new Map([[stateKey(start), start]]);
  const edges = new Map<string, readonly string[]>();
  const queue = [start];
  for (let state = queue.pop(); state !== undefined; state = queue.pop()) {
    if (stopAt(state)) break;
    const next = [
      ...movesFrom(compiled, state, values),
      ...(withSkip ? skipsFrom(compiled, state) : []),
    ];
    edges.set(stateKey(state), next.map(stateKey));
    for (const found of next) {
      const key = stateKey(found);
      if (states.has(key)) continue;
      if (states.size >= most) return { states, edges, isComplete: false };
      states.set(key, found);
      queue.push(found);
    }
  }
  return { states, edges, isComplete: true };
}
