/**
 * Proof that the flagship's hold points hold. The demands are written here by hand,
 * from the trade (common practice), so that taking a hold point out of the data
 * must break one of them.
 */
import { describe, expect, it } from 'vitest';
import {
  contextOf,
  explore,
  loadBuiltIn,
  loadProcedure,
  positionOf,
  stateKey,
  valuesThatMatter,
} from '../../src/procedure';
import type { CaseContext, CaseState, CompiledProcedure, Procedure } from '../../src/procedure';

type Demand = (context: CaseContext) => boolean;
const has =
  (...captures: readonly string[]): Demand =>
  (context) =>
    captures.every((capture) => capture in context.confirmed);

/** What must be settled whenever a step is in hand. */
const DEMANDS: readonly {
  readonly holdPoint: string;
  readonly step: string;
  readonly demand: Demand;
}[] = [
  { holdPoint: 'reamer-build', step: 'build-reamer', demand: has('wedge') },
  { holdPoint: 'reaming', step: 'align-reamer', demand: has('wedge', 'direction', 'reamer-ready') },
  { holdPoint: 'post-drill', step: 'drill-post', demand: has('depth') },
  { holdPoint: 'post-choice', step: 'choose-post', demand: has('depth') },
  {
    holdPoint: 'post-length',
    step: 'press-post',
    demand: ({ confirmed }) =>
      (confirmed as Record<string, unknown>).post === (confirmed as Record<string, unknown>).depth,
  },
  { holdPoint: 'press', step: 'press-post', demand: has('plate', 'post', 'depth') },
  {
    holdPoint: 'baseplate',
    step: 'insert-baseplate',
    demand: has('depth', 'pin-out', 'coupled', 'direction'),
  },
  { holdPoint: 'sphere-load', step: 'load-sphere', demand: has('sphere') },
  {
    holdPoint: 'glenosphere',
    step: 'place-sphere',
    demand: (context) =>
      (context.passed as Record<string, string>)['clear-rim'] === 'finished' &&
      (context.passed as Record<string, string>)['load-sphere'] === 'finished' &&
      has('sphere', 'fully-seated')(context),
  },
];

function load(data?: unknown): CompiledProcedure {
  const loaded = data === undefined ? loadBuiltIn('reverse-shoulder-glenoid') : loadProcedure(data);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.error));
  return loaded.value;
}

function violations(compiled: CompiledProcedure, state: CaseState): readonly string[] {
  return compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, state, track);
    if (position.kind !== 'doing') return [];
    return DEMANDS.filter(({ step }) => step === position.step.id)
      .filter(({ demand }) => !demand(contextOf(state)))
      .map(({ holdPoint }) => holdPoint);
  });
}

describe('the hold points of the flagship', () => {
  const compiled = load();

  it(
    '[PRO1] lets no guarded step be in hand without its conditions, in any reachable state',
    { timeout: 240_000 },
    () => {
      const { states } = explore(compiled, { withSkip: true });
      console.log(`states reached, one step left out anywhere: ${states.size}`);
      expect(states.size).toBeGreaterThan(1_000);
      expect([...states.values()].flatMap((state) => violations(compiled, state))).toEqual([]);
    },
  );

  it(
    '[PRO2] can reach the end from every state that spoken orders reach',
    { timeout: 120_000 },
    () => {
      const { states, edges } = explore(compiled);
      const isEnd = (state: CaseState) =>
        compiled.tracks.every((track) => positionOf(compiled, state, track).kind === 'done');
      const reachesEnd = new Set([...states.values()].filter(isEnd).map(stateKey));
      expect(reachesEnd.size).toBeGreaterThan(0);
      const before = new Map<string, string[]>();
      for (const [from, targets] of edges) {
        for (const to of targets) before.set(to, [...(before.get(to) ?? []), from]);
      }
      const queue = [...reachesEnd];
      for (let key = queue.pop(); key !== undefined; key = queue.pop()) {
        for (const earlier of before.get(key) ?? []) {
          if (reachesEnd.has(earlier)) continue;
          reachesEnd.add(earlier);
          queue.push(earlier);
        }
      }
      expect([...states.keys()].filter((key) => !reachesEnd.has(key))).toEqual([]);
    },
  );

  it.each(DEMANDS)(
    '[PRO3] is missed when it is taken out of the data: $holdPoint',
    { timeout: 120_000 },
    ({ holdPoint }) => {
      const procedure = JSON.parse(JSON.stringify(compiled.procedure)) as Procedure;
      const without = load({
        ...procedure,
        holdPoints: procedure.holdPoints.filter(({ id }) => id !== holdPoint),
      });
      const found: string[] = [];
      explore(without, {
        withSkip: true,
        // Not those of the mutilated data: what is compared nowhere would not be tried.
        values: valuesThatMatter(compiled),
        stopAt: (state) => {
          found.push(...violations(without, state));
          return found.length > 0;
        },
      });
      expect(found).not.toEqual([]);
    },
  );

  it('[PRO3] has a demand of this test for every hold point of the data', () => {
    expect(DEMANDS.map(({ holdPoint }) => holdPoint).sort()).toEqual(
      [...compiled.holdPoints.keys()].sort(),
    );
  });
});
