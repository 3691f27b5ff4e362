/** Orders of every kind, legal and not, in any sequence: never an exception, never a drift. */
import { fc, test } from '@fast-check/vitest';
import { describe, expect } from 'vitest';
import type { Entry, Fact, Order } from '../../src/domain';
import { SOURCES } from '../../src/domain';
import {
  applyFact,
  contextOf,
  decide,
  isAccepted,
  listPhrases,
  loadBuiltIn,
  openingState,
  replay,
  stateKey,
} from '../../src/procedure';
import type { CaseState } from '../../src/procedure';

const loaded = loadBuiltIn('reverse-shoulder-glenoid');
if (!loaded.ok) throw new Error('The flagship does not load');
const compiled = loaded.value;

const anyOrder: fc.Arbitrary<Order> = fc.oneof(
  fc.record({ type: fc.constant('step.begin' as const), step: fc.constantFrom(...compiled.steps.keys()) }),
  fc.record({ type: fc.constantFrom('step.finish' as const, 'step.goBack' as const), track: fc.constantFrom(...compiled.tracks) }),
  fc.record({ type: fc.constant('step.skip' as const), track: fc.constantFrom(...compiled.tracks), reason: fc.constantFrom('', 'broken') }),
  fc.record({ type: fc.constant('capture.offer' as const), capture: fc.constantFrom(...compiled.captures.keys()), value: fc.oneof(fc.constantFrom<number | string>(16, 24, 28, 'reported', 'small'), fc.integer(), fc.string()) }),
  fc.record({ type: fc.constantFrom('capture.confirm' as const, 'capture.withdraw' as const, 'capture.lapse' as const) }),
  fc.record({ type: fc.constant('clock.hold' as const), reason: fc.string() }),
  fc.record({ type: fc.constant('clock.resume' as const) }),
  fc.record({ type: fc.constant('override.request' as const), holdPoint: fc.constantFrom(...compiled.holdPoints.keys()), reason: fc.constantFrom('', 'gauge broken') }),
  fc.record({ type: fc.constantFrom('override.confirm' as const, 'override.withdraw' as const) }),
) as fc.Arbitrary<Order>; // prettier-ignore

/** Either any order, or the n-th thing that may be said now, which gets further into the case. */
const anyMove = fc.oneof({ weight: 1, arbitrary: anyOrder }, { weight: 3, arbitrary: fc.nat(400) });

describe('random orders', () => {
  test.prop([fc.array(fc.tuple(anyMove, fc.constantFrom(...SOURCES)), { maxLength: 120 })], {
    numRuns: 500,
  })('[PRO4] never throw, change nothing when refused, and replay to the same state', (moves) => {
    let state: CaseState = openingState(compiled);
    const facts: Fact[] = [];
    for (const [move, source] of moves) {
      const phrases = listPhrases(compiled, state);
      const order = typeof move === 'number' ? phrases[move % phrases.length]?.order : move;
      if (!order) continue;
      const before = stateKey(state);
      const decided = decide(compiled, state, order, source);
      if (!decided.ok) {
        expect(decided.error.fault.code).not.toBe('');
        expect(stateKey(state)).toBe(before);
        continue;
      }
      for (const { fact } of decided.value) {
        expect(isAccepted(state, fact)).toBe(true);
        state = applyFact(compiled, state, fact);
        facts.push(fact);
      }
    }
    const opening = facts.map((fact) => fact as Entry);
    const first = {
      type: 'step.begun',
      data: { track: 'field', step: 'expose' },
    } as unknown as Entry;
    const replayed = replay(compiled, [first, ...opening]);
    expect(replayed.ok && stateKey(replayed.value)).toBe(stateKey(state));
    expect(replayed.ok && contextOf(replayed.value)).toEqual(contextOf(state));
  });
});
