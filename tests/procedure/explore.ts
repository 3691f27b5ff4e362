/**
 * Walks every state that orders can reach, breadth first. Captures take one or two
 * representative values, an offer and its confirmation count as one move: neither
 * changes which hold points exist, and both keep the walk small.
 */
import {
  applyFact,
  contextOf,
  decide,
  decideOpening,
  initialState,
  listPhrases,
} from '../../src/procedure';
import type { CaseState, CompiledProcedure } from '../../src/procedure';
import type { CaptureValue, Order, Source } from '../../src/domain';

/** How many values of each capture the walk tries; one for each screw, or they would multiply. */
function limitFor(capture: string): number {
  return capture.startsWith('screw-') || capture === 'direction' ? 1 : 2;
}

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

export function openingState(compiled: CompiledProcedure): CaseState {
  const start = initialState(compiled);
  return decideOpening(compiled, start).reduce(
    (state, fact) => applyFact(compiled, state, fact),
    start,
  );
}

interface ExploreOptions {
  readonly withSkip?: boolean;
  readonly stopAt?: (state: CaseState) => boolean;
  readonly most?: number;
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

/** The moves of the walk: spoken orders that move steps, and sizes taken whole. */
export function movesFrom(compiled: CompiledProcedure, state: CaseState): readonly CaseState[] {
  const tried = new Map<string, Set<CaptureValue>>();
  const moving: readonly Order['type'][] = [
    'step.begin',
    'step.finish',
    'step.goBack',
    'group.finish',
  ];
  return listPhrases(compiled, state).flatMap(({ order }) => {
    if (order.type === 'capture.offer') {
      const values = tried.get(order.capture) ?? new Set();
      if (values.has(order.value) || values.size >= limitFor(order.capture)) return [];
      tried.set(order.capture, values.add(order.value));
      return [follow(compiled, follow(compiled, state, order), { type: 'capture.confirm' })];
    }
    return moving.includes(order.type) ? [follow(compiled, state, order)] : [];
  });
}

/** The state after the desk leaves a track's step out, once in a case. */
function skipsFrom(compiled: CompiledProcedure, state: CaseState): readonly CaseState[] {
  if (Object.values(contextOf(state).passed).includes('skipped')) return [];
  return compiled.tracks.map((track) =>
    follow(compiled, state, { type: 'step.skip', track, reason: 'tried by the walk' }, 'desk'),
  );
}

/**
 * Every reachable state, by key, with the keys that it leads to. `withSkip` also lets
 * the desk leave out one step anywhere. Stops early where `stopAt` says so.
 */
export function explore(
  compiled: CompiledProcedure,
  { withSkip = false, stopAt = () => false, most = 200_000 }: ExploreOptions = {},
): {
  readonly states: ReadonlyMap<string, CaseState>;
  readonly edges: ReadonlyMap<string, readonly string[]>;
} {
  const start = openingState(compiled);
  const states = new Map([[stateKey(start), start]]);
  const edges = new Map<string, readonly string[]>();
  const queue = [start];
  for (let state = queue.pop(); state !== undefined; state = queue.pop()) {
    if (stopAt(state)) break;
    const next = [...movesFrom(compiled, state), ...(withSkip ? skipsFrom(compiled, state) : [])];
    edges.set(stateKey(state), next.map(stateKey));
    for (const found of next) {
      const key = stateKey(found);
      if (states.has(key)) continue;
      if (states.size >= most) throw new Error(`More than ${most} states`);
      states.set(key, found);
      queue.push(found);
    }
  }
  return { states, edges };
}
