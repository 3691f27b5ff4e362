/**
 * Hold points and conditions taken out of the data, or turned round, one at a time: each
 * such mutant must break a demand. The demands come from the hand-written tables; the
 * mutants from the data. Every condition that the hold point has is judged by the engine.
 */
import { describe, expect, it } from 'vitest';
import { describeConditions, loadBuiltIn } from '../../src/procedure';
import type { CaseContext, CompiledProcedure, HoldPoint } from '../../src/procedure';
import { BUILT_IN } from '../../src/procedure/library';
import { DEMANDS } from './demands';
import type { Demand } from './demands';
import { contextsThatLack, contextThatExcuses, contextThatMeets } from './demands/meet';

/** Whether a hold point, or a mutant of it, lets pass. */
type Judge = (point: HoldPoint | undefined, context: CaseContext, offered: number) => boolean;

const judgeWith =
  (compiled: CompiledProcedure, change: (met: readonly boolean[]) => readonly boolean[]): Judge =>
  (point, context, offered) =>
    !point ||
    change(describeConditions(compiled, point, context, offered).map(({ isMet }) => isMet)).every(
      Boolean,
    );

function pointOf(compiled: CompiledProcedure, demand: Demand): HoldPoint | undefined {
  return [...compiled.holdPoints.values()].find(({ guards }) =>
    'step' in demand
      ? guards.type === 'step' && guards.step === demand.step
      : guards.type === 'capture' && guards.capture === demand.capture,
  );
}

/** What a hold point, or a mutant of it, gets wrong. */
function faultsOf(
  compiled: CompiledProcedure,
  demand: Demand,
  judge: Judge,
  point: HoldPoint | undefined,
): readonly string[] {
  const { context, offered } = contextThatMeets(compiled, demand);
  const name = 'step' in demand ? demand.step : demand.capture;
  return [
    ...(judge(point, context, offered) ? [] : [`${name} stays closed`]),
    ...demand.needs.flatMap((need) => {
      const excused = contextThatExcuses(compiled, demand, need);
      return [
        ...contextsThatLack(compiled, demand, need).flatMap((lacking) =>
          judge(point, lacking, offered) ? [`${name} opens without ${JSON.stringify(need)}`] : [],
        ),
        ...(excused && !judge(point, excused, offered) ? [`${name} knows no exception`] : []),
      ];
    }),
  ];
}

interface Mutant {
  readonly what: string;
  readonly demand: Demand | undefined;
  readonly judge: Judge;
  readonly point: HoldPoint | undefined;
}

function mutantsOf(compiled: CompiledProcedure): readonly Mutant[] {
  const demands = DEMANDS[compiled.procedure.id] ?? [];
  const asIs = judgeWith(compiled, (met) => met);
  return [...compiled.holdPoints.values()].flatMap((point) => {
    const demand = demands.find((one) => pointOf(compiled, one) === point);
    return [
      { what: `${point.id} removed`, demand, judge: asIs, point: undefined },
      ...point.needs.flatMap((_, index) => [
        {
          what: `${point.id} without condition ${index}`,
          demand,
          judge: judgeWith(compiled, (met) => met.filter((__, other) => other !== index)),
          point,
        },
        {
          what: `${point.id} with condition ${index} turned round`,
          demand,
          judge: judgeWith(compiled, (met) => met.map((is, other) => is !== (other === index))),
          point,
        },
      ]),
    ];
  });
}

describe.each(Object.keys(BUILT_IN))('the hold points of %s', (name) => {
  const loaded = loadBuiltIn(name);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.error));
  const compiled = loaded.value;

  it('[PRO3] open and close as the demands want', () => {
    const asIs = judgeWith(compiled, (met) => met);
    const demands = DEMANDS[name] ?? [];
    expect(demands.length).toBeGreaterThan(0);
    expect(
      demands.flatMap((demand) => faultsOf(compiled, demand, asIs, pointOf(compiled, demand))),
    ).toEqual([]);
  });

  it('[PRO3] are each missed, and each of their conditions, when taken out or turned round', () => {
    const mutants = mutantsOf(compiled);
    const alive = mutants.filter(
      ({ demand, judge, point }) =>
        !demand || faultsOf(compiled, demand, judge, point).length === 0,
    );
    console.log(`${name}: ${mutants.length - alive.length} of ${mutants.length} mutants found`);
    expect(mutants.length).toBeGreaterThan(compiled.holdPoints.size);
    expect(alive.map(({ what }) => what)).toEqual([]);
  });
});
