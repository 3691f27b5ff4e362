/**
 * A hundred thousand orders, legal and not, over all built-in procedures, with a fixed
 * seed and at random times: no exception, and the record replays to the same state,
 * entry by entry. On the way no guarded step is in hand without what it needs, unless an
 * override says so: going back, corrections, undo and relief counts included.
 */
import { describe, expect, it } from 'vitest';
import { SOURCES } from '../../src/domain';
import type { Entry, Order } from '../../src/domain';
import {
  applyFact,
  contextOf,
  initialState,
  isAccepted,
  isClosed,
  listPhrases,
  loadBuiltIn,
  positionOf,
  stateKey,
} from '../../src/procedure';
import type { CaseState, CompiledProcedure, LastMove } from '../../src/procedure';
import { decideOpening, decideWithState } from '../../src/procedure/decide';
import { BUILT_IN } from '../../src/procedure/library';
import { DEMANDS } from './demands';
import { isNeedMet } from './demands/meet';
import { anyOrder, createRandom } from './orders';

const ORDERS = 100_000;
const ORDERS_A_CASE = 1_000;
const names = Object.keys(BUILT_IN);

/** Guarded steps in hand that lack something, and were not passed by an override. */
function faultsIn(compiled: CompiledProcedure, state: CaseState): readonly string[] {
  const context = contextOf(state);
  return compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, state, track);
    if (position.kind !== 'doing') return [];
    const { id } = position.step;
    const point = compiled.holdPointOfStep.get(id);
    if (point && point.id in context.overridden) return [];
    return (DEMANDS[compiled.procedure.id] ?? []).flatMap((demand) =>
      'step' in demand && demand.step === id
        ? demand.needs
            .filter((need) => !isNeedMet(context, need))
            .map((need) => `${id} ${JSON.stringify(need)}`)
        : [],
    );
  });
}

/** One case on random orders; gives its entries, the state after each, and what was wrong on the way. */
function runCase(compiled: CompiledProcedure, seed: number, orders: number) {
  const random = createRandom(seed);
  const entries: Entry[] = [];
  const keys: string[] = [];
  const faults = new Set<string>();
  let state = initialState(compiled);
  let atMs = 0;
  const add = (fact: Pick<Entry, 'type' | 'data'>) => {
    atMs += Math.floor(random() * 90_000);
    const entry = { ...fact, seq: entries.length + 1, atMs, monotonicMs: atMs } as unknown as Entry;
    expect(isAccepted(state, entry)).toBe(true);
    state = applyFact(compiled, state, entry);
    entries.push(entry);
    keys.push(stateKey(state));
  };
  for (const fact of decideOpening(compiled, state)) add(fact);
  let phrases = listPhrases(compiled, state);
  let last: LastMove | null = null;
  for (let index = 0; index < orders && !isClosed(state); index += 1) {
    const order: Order | undefined =
      random() < 0.4
        ? anyOrder.one(compiled, random)
        : random() < 0.2
          ? { type: 'capture.confirm' }
          : phrases[Math.floor(random() * phrases.length)]?.order;
    if (!order) continue;
    const source = SOURCES[Math.floor(random() * SOURCES.length)] ?? 'desk';
    const before = state;
    const decided = decideWithState(compiled, state, order, source, last);
    if (!decided.ok) {
      expect(decided.error.fault.code).not.toBe('');
      continue;
    }
    const since = entries.length + 1;
    for (const { fact } of decided.value.facts) add(fact);
    last = { before, order: order.type, since };
    phrases = listPhrases(compiled, state);
    for (const fault of faultsIn(compiled, state)) faults.add(fault);
  }
  return { entries, keys, faults: [...faults] };
}

describe('a hundred thousand orders', () => {
  it.each(names)(
    '[PRO16] never fail, and replay entry by entry: %s',
    { timeout: 240_000 },
    (name) => {
      const loaded = loadBuiltIn(name);
      if (!loaded.ok) throw new Error(JSON.stringify(loaded.error));
      const compiled = loaded.value;
      const cases = Math.ceil(ORDERS / names.length / ORDERS_A_CASE);
      let entriesSeen = 0;
      for (let seed = 1; seed <= cases; seed += 1) {
        const { entries, keys, faults } = runCase(compiled, seed, ORDERS_A_CASE);
        expect(faults).toEqual([]);
        let state = initialState(compiled);
        const stored = JSON.parse(JSON.stringify(entries)) as Entry[];
        for (const [index, entry] of stored.entries()) {
          state = applyFact(compiled, state, entry);
          if (stateKey(state) !== keys[index])
            expect(`${seed}: entry ${index}`).toBe('as it was live');
        }
        entriesSeen += entries.length;
      }
      console.log(`${name}: ${cases * ORDERS_A_CASE} orders, ${entriesSeen} entries`);
      expect(entriesSeen).toBeGreaterThan(cases);
    },
  );
});
