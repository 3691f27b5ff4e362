/**
 * Walks every state that orders can reach, depth first. Captures take one or two
 * representative values, and an offer with its confirmation counts as one move:
 * neither changes which hold points exist, and both keep the walk small. Serves the
 * checker and the proofs in the tests.
 */
import type { CaptureId, CaptureValue, Order, Source } from '../domain';
import type { CompiledProcedure } from './compile';
import { decide, decideOpening } from './decide';
import { applyFact, contextOf, initialState } from './state';
import type { CaseState } from './state';
import { listLegalValues } from './values-of';
import { listPhrases } from './vocabulary';

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

/** Equal for equal situations: positions, sizes, passed steps, overrides, the clock. */
export function stateKey(state: CaseState): string {
  const context = contextOf(state);
  const sorted = (map: object) => Object.entries(map).sort(([a], [b]) => a.localeCompare(b));
  return JSON.stringify([
    state.value,
    sorted(context.confirmed),
    sorted(context.passed),
    sorted(context.overridden),
    context.isClockHeld,
  ]);
}

/** The state in which a case opens. */
export function openingState(compiled: CompiledProcedure): CaseState {
  const start = initialState(compiled);
  return decideOpening(compiled, start).reduce(
    (state, fact) => applyFact(compiled, state, fact),
    start,
  );
}

/** The state after one order, or the same state where it is refused. */
export function follow(
  compiled: CompiledProcedure,
  state: CaseState,
  order: Order,
  source: Source = 'voice',
): CaseState {
  const decided = decide(compiled, state, order, source);
  if (!decided.ok) return state;
  return decided.value.reduce((next, { fact }) => applyFact(compiled, next, fact), state);
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
  return new Map(
    [...compiled.captures.values()].map((capture) => {
      const all = listLegalValues(capture).map(({ value }) => value);
      const own = named.filter(([id]) => id === capture.id).map(([, value]) => value);
      const other = all.find((value) => !own.includes(value));
      const tried = compared.includes(capture.id) ? all.slice(0, 2) : [];
      return [capture.id, new Set([...own, ...tried, ...(other === undefined ? [] : [other])])];
    }),
  );
}

/** Spoken orders that move steps; the others leave the walk where it is. */
const MOVING: readonly Order['type'][] = [
  'step.begin',
  'step.finish',
  'step.goBack',
  'group.finish',
];

function movesFrom(
  compiled: CompiledProcedure,
  state: CaseState,
  values: ReadonlyMap<CaptureId, ReadonlySet<CaptureValue>>,
): readonly CaseState[] {
  const tried = new Set<string>();
  return listPhrases(compiled, state).flatMap(({ order }) => {
    // From the desk, which may also go back where that reopens another track's steps.
    if (order.type !== 'capture.offer')
      return MOVING.includes(order.type) ? [follow(compiled, state, order, 'desk')] : [];
    const key = `${order.capture}=${order.value}`;
    if (tried.has(key) || !values.get(order.capture)?.has(order.value)) return [];
    tried.add(key);
    return [follow(compiled, follow(compiled, state, order), { type: 'capture.confirm' })];
  });
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
