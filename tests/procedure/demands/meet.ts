/** Whether a context meets a demand, and contexts that meet it or lack one thing. */
import { asId } from '../../../src/domain';
import type { CaptureId, StepId } from '../../../src/domain';
import { initialState, contextOf } from '../../../src/procedure';
import type { CaseContext, CompiledProcedure } from '../../../src/procedure';
import type { Demand, Need } from './demand';

type Loose = Record<string, unknown>;
/** A value offered for a guarded capture, where a demand compares it. */
const OFFERED = 20;
const OTHER = 24;

/** Whether a need is met, or excused, read straight from the context. */
export function isNeedMet(context: CaseContext, need: Need): boolean {
  if (isExcused(context, need)) return true;
  if ('confirmed' in need) return isSure(context, need.confirmed);
  if ('is' in need) {
    return isSure(context, need.is[0]) && valueOf(context, need.is[0]) === need.is[1];
  }
  if ('finished' in need) return passedOf(context, need.finished) === 'finished';
  if ('running' in need) return need.running in context.running;
  if ('reconciled' in need) return context.packsAgree;
  return 'agrees' in need ? isAgreed(context, need.agrees) : true;
}

function isExcused(context: CaseContext, { unless }: Need): boolean {
  if (!unless) return false;
  if ('chosen' in unless) return unless.chosen in context.chosen;
  return 'skipped' in unless
    ? passedOf(context, unless.skipped) === 'skipped'
    : valueOf(context, unless.is[0]) === unless.is[1];
}

function isAgreed(context: CaseContext, count: string): boolean {
  const results = Object.values((context.counted as Loose)[count] ?? {});
  const isTaken = count === 'relief' ? !context.isReliefDue : results.length > 0;
  return isTaken && results.every((result) => result === 'agrees');
}

const passedOf = (context: CaseContext, step: string) => context.passed[asId<StepId>(step)];
const valueOf = (context: CaseContext, capture: string) =>
  context.confirmed[asId<CaptureId>(capture)];
const isSure = (context: CaseContext, capture: string) =>
  valueOf(context, capture) !== undefined && !(capture in context.doubtful);

/** A context in which everything that a demand names is so, and the value that is offered. */
export function contextThatMeets(
  compiled: CompiledProcedure,
  { needs }: Demand,
): { readonly context: CaseContext; readonly offered: number } {
  const context = structuredClone(contextOf(initialState(compiled))) as unknown as Loose;
  const set = (part: string, key: string, value: unknown) =>
    ((context[part] as Loose)[key] = value);
  for (const need of needs) {
    if ('confirmed' in need) set('confirmed', need.confirmed, 'anything');
    else if ('is' in need) set('confirmed', need.is[0], need.is[1]);
    else if ('finished' in need) set('passed', need.finished, 'finished');
    else if ('reconciled' in need) context['packsAgree'] = true;
    else if ('running' in need) set('running', need.running, true);
    else if ('agrees' in need) {
      const items = compiled.procedure.countItems.map(({ id }) => [id, 'agrees']);
      if (need.agrees !== 'relief') set('counted', need.agrees, Object.fromEntries(items));
    } else set('confirmed', need.same, OFFERED);
  }
  return { context: context as unknown as CaseContext, offered: OFFERED };
}

/** The same contexts, each lacking one need in one of the ways in which it can be lacking. */
export function contextsThatLack(
  compiled: CompiledProcedure,
  demand: Demand,
  need: Need,
): readonly CaseContext[] {
  const lacking = (change: (context: Record<string, Loose | boolean>) => void) => {
    const { context } = contextThatMeets(compiled, demand);
    change(context as unknown as Record<string, Loose | boolean>);
    return context;
  };
  const drop = (part: string, key: string) =>
    lacking((context) => Reflect.deleteProperty(context[part] as Loose, key));
  const set = (part: string, key: string, value: unknown) =>
    lacking((context) => ((context[part] as Loose)[key] = value));
  if ('confirmed' in need) {
    return [drop('confirmed', need.confirmed), set('doubtful', need.confirmed, true)];
  }
  if ('is' in need) {
    const [capture] = need.is;
    return [
      drop('confirmed', capture),
      set('confirmed', capture, 'another value'),
      set('doubtful', capture, true),
    ];
  }
  if ('finished' in need) {
    return [
      drop('passed', need.finished),
      set('passed', need.finished, 'skipped'),
      set('passed', need.finished, 'bypassed'),
    ];
  }
  if ('running' in need) return [drop('running', need.running)];
  if ('reconciled' in need) return [lacking((context) => (context['packsAgree'] = false))];
  if ('agrees' in need) {
    const [item] = compiled.procedure.countItems;
    return need.agrees === 'relief'
      ? [lacking((context) => (context['isReliefDue'] = true))]
      : [
          drop('counted', need.agrees),
          set('counted', need.agrees, { [item?.id ?? '']: 'agrees' }),
          set(
            'counted',
            need.agrees,
            Object.fromEntries(
              compiled.procedure.countItems.map(({ id }) => [
                id,
                id === item?.id ? 'differs' : 'agrees',
              ]),
            ),
          ),
        ];
  }
  return [set('confirmed', need.same, OTHER), drop('confirmed', need.same)];
}

/** The context in which a need is lacking but its exception holds; null where it has none. */
export function contextThatExcuses(
  compiled: CompiledProcedure,
  demand: Demand,
  need: Need,
): CaseContext | null {
  const { unless } = need;
  const [context] = contextsThatLack(compiled, demand, need);
  if (!unless || !context) return null;
  const loose = context as unknown as Record<string, Loose>;
  if ('chosen' in unless) (loose['chosen'] as Loose)[unless.chosen] = { at: 'anywhere', moved: {} };
  else if ('skipped' in unless) (loose['passed'] as Loose)[unless.skipped] = 'skipped';
  else (loose['confirmed'] as Loose)[unless.is[0]] = unless.is[1];
  return context;
}
