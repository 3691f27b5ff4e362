/**
 * Proofs over every built-in procedure; one that joins the library joins by itself, and
 * fails until it has a table of demands. The demands are written by hand (common
 * practice), the states and the orders are made from the data.
 */
import { describe, expect, it } from 'vitest';
import type { Order } from '../../src/domain';
import { createLiveKey, explore, loadBuiltIn, openingState, positionOf, stateKey, valuesThatMatter } from '../../src/procedure'; // prettier-ignore
import { contextOf, listPhrases } from '../../src/procedure';
import type { CaseState, CompiledProcedure } from '../../src/procedure';
import { decideWithState } from '../../src/procedure/decide';
import { BUILT_IN } from '../../src/procedure/library';
import { DEMANDS } from './demands';
import { isNeedMet } from './demands/meet';
import { anyOrder, createRandom } from './orders';

/** Up to this many states the walk that also goes back is made as well. */
const SMALL = 100;
const WANDERINGS = 12;
const MOVES = 150;

export function load(name: string): CompiledProcedure {
  const loaded = loadBuiltIn(name);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.error));
  return loaded.value;
}

/** Steps in hand that lack something they need. */
function violations(compiled: CompiledProcedure, state: CaseState): readonly string[] {
  const context = contextOf(state);
  return compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, state, track);
    if (position.kind !== 'doing') return [];
    const { id, captures } = position.step;
    return (DEMANDS[compiled.procedure.id] ?? []).flatMap((demand) => {
      if ('step' in demand) {
        return demand.step === id && !demand.needs.every((need) => isNeedMet(context, need))
          ? [id]
          : [];
      }
      const confirmed = context.confirmed as Record<string, unknown>;
      const isTaken = captures.some((capture) => capture === demand.capture);
      const value = confirmed[demand.capture];
      return isTaken && value !== undefined
        ? demand.needs.flatMap((need) =>
            'same' in need && confirmed[need.same] !== value ? [demand.capture] : [],
          )
        : [];
    });
  });
}

const isEnd = (compiled: CompiledProcedure, state: CaseState) =>
  compiled.tracks.every((track) => positionOf(compiled, state, track).kind === 'done');

/** The keys from which no way leads to an end. */
function keysThatAreStuck(compiled: CompiledProcedure): readonly string[] {
  const { states, edges, isComplete } = explore(compiled);
  expect(isComplete).toBe(true);
  const good = new Set(
    [...states].filter(([, state]) => isEnd(compiled, state)).map(([key]) => key),
  );
  const before = new Map<string, string[]>();
  for (const [from, targets] of edges) {
    for (const to of targets) before.set(to, [...(before.get(to) ?? []), from]);
  }
  const queue = [...good];
  for (let key = queue.pop(); key !== undefined; key = queue.pop()) {
    for (const earlier of before.get(key) ?? []) {
      if (good.has(earlier)) continue;
      good.add(earlier);
      queue.push(earlier);
    }
  }
  return [...states.keys()].filter((key) => !good.has(key));
}

describe.each(Object.keys(BUILT_IN))('every state of %s', (name) => {
  const compiled = load(name);
  const walk = explore(compiled, { withSkip: true });

  it('[PRO1] has no guarded step in hand without what it needs, one step left out at the desk included', () => {
    console.log(`${name}: ${compiled.steps.size} steps, ${walk.states.size} states told apart`);
    expect(walk.isComplete).toBe(true);
    expect(DEMANDS[name]?.length).toBeGreaterThan(0);
    expect(walk.states.size).toBeGreaterThan(compiled.steps.size);
    expect([...walk.states.values()].flatMap((state) => violations(compiled, state))).toEqual([]);
  });

  it('[PRO2] leads to the end, without the desk', { timeout: 120_000 }, () => {
    expect(keysThatAreStuck(compiled)).toEqual([]);
  });

  it('[PRO14] is found going forward, wherever a case goes back to', { timeout: 120_000 }, () => {
    const keyOf = createLiveKey(compiled);
    const forward = explore(compiled);
    const strangers: string[] = [];
    const visit = (state: CaseState) => {
      if (!forward.states.has(keyOf(state))) strangers.push(keyOf(state));
    };
    if (forward.states.size <= SMALL) {
      const full = explore(compiled, { isFull: true });
      console.log(`${name}: ${full.states.size} states with going back`);
      expect(full.isComplete).toBe(true);
      for (const state of full.states.values()) visit(state);
    } else {
      for (let seed = 1; seed <= WANDERINGS; seed += 1) wander(compiled, seed, visit);
    }
    expect(strangers).toEqual([]);
  });

  it(
    '[PRO15] refuses every order that is not legal with a code, and changes nothing',
    { timeout: 120_000 },
    () => {
      const random = createRandom(20_261);
      let refused = 0;
      for (const state of walk.states.values()) {
        const before = JSON.stringify([stateKey(state), contextOf(state)]);
        for (const order of anyOrder.all(compiled, random)) {
          const decided = decideWithState(compiled, state, order, 'desk');
          if (decided.ok) continue;
          refused += 1;
          if (!/^[a-z-]+$/.test(decided.error.fault.code)) expect.fail(JSON.stringify(order));
        }
        // A state is data that nothing may touch, so one look after all orders is enough.
        if (JSON.stringify([stateKey(state), contextOf(state)]) !== before)
          expect.fail(`changed by an order: ${before}`);
      }
      console.info(`${compiled.procedure.id}: ${refused} orders refused in all states`);
      expect(refused).toBeGreaterThan(walk.states.size);
    },
  );
});

/** Goes forward and back at random, as the walk does: no size is left open, nothing is changed. */
function wander(compiled: CompiledProcedure, seed: number, visit: (state: CaseState) => void) {
  const random = createRandom(seed);
  const values = valuesThatMatter(compiled);
  const moving =
    /^(step\.(begin|finish|goBack|leaveOut|reportAhead)|group\.finish|alternative\.choose)$/;
  let state = openingState(compiled);
  const go = (order: Order) => {
    const decided = decideWithState(compiled, state, order, 'desk');
    if (decided.ok) state = decided.value.state;
  };
  for (let move = 0; move < MOVES; move += 1) {
    const phrases = listPhrases(compiled, state).filter(({ order }) =>
      order.type === 'capture.offer'
        ? values.get(order.capture)?.has(order.value)
        : // An alternative now and then only, or no case would get far.
          moving.test(order.type) && (order.type !== 'alternative.choose' || random() < 0.05),
    );
    const order = phrases[Math.floor(random() * phrases.length)]?.order;
    for (const answer of anyOrder.answers(compiled, state)) go(answer);
    if (order) go(order);
    for (const answer of ['capture.confirm', 'capture.confirm'] as const) go({ type: answer });
    visit(state);
  }
}
