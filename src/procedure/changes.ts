/**
 * What each fact does to the context. Every function returns only the keys that
 * change. Going back clears what was settled from the reopened step onward in its
 * track; other tracks are then looked at by settle.ts.
 */
import type { CaptureId, CountId, HoldPointId, StepId } from '../domain';
import { asksForPacks } from './conditions';
import type { CaseContext, Passed } from './context';
import { checkKey, without } from './context';
import { listUncounted } from './counts';
import type { Lookups } from './lookups';
import type { MachineFact } from './machine-facts';

interface ChangeArgs {
  readonly context: CaseContext;
  readonly event: MachineFact;
}
type Change = (args: ChangeArgs) => Partial<CaseContext>;

/** Narrows the event; the machine's routing guarantees the type. */
export function factOf<T extends MachineFact['type']>(
  event: MachineFact,
  type: T,
): Extract<MachineFact, { type: T }> {
  if (event.type !== type) throw new Error(`Expected the fact "${type}", received "${event.type}"`);
  return event as Extract<MachineFact, { type: T }>;
}

/** Makes the context changes for one procedure. */
export function changes(compiled: Lookups) {
  /** The steps of a track's line from one on; up to and with another, or to the end. */
  function stepsFrom(step: StepId, upTo: StepId | null = null): readonly StepId[] {
    const track = compiled.steps.get(step)?.track;
    const ids = (track ? (compiled.stepsOfTrack.get(track) ?? []) : []).map(({ id }) => id);
    return ids.slice(ids.indexOf(step), upTo ? ids.indexOf(upTo) + 1 : undefined);
  }

  function capturesOf(steps: readonly StepId[]): readonly CaptureId[] {
    return steps.flatMap((step) => compiled.steps.get(step)?.captures ?? []);
  }

  function overridesOf(steps: readonly StepId[]): readonly HoldPointId[] {
    const captures = capturesOf(steps);
    return [...compiled.holdPoints.values()]
      .filter(({ guards }) =>
        guards.type === 'step' ? steps.includes(guards.step) : captures.includes(guards.capture),
      )
      .map(({ id }) => id);
  }

  function answersOf(steps: readonly StepId[]): readonly string[] {
    return steps.flatMap((step) =>
      (compiled.steps.get(step)?.checklist ?? []).map(({ id }) => checkKey(step, id)),
    );
  }

  function countsOf(steps: readonly StepId[]): readonly CountId[] {
    return steps.flatMap((step) => compiled.steps.get(step)?.count ?? []);
  }

  /** Forgets what a stretch of steps had settled, and the sizes of further ones. */
  function clear(
    context: CaseContext,
    steps: readonly StepId[],
    captures: readonly CaptureId[] = capturesOf(steps),
  ): Partial<CaseContext> {
    const isGone = (capture: CaptureId | undefined) => !!capture && captures.includes(capture);
    const chosen = Object.entries(context.chosen).filter(([, { at }]) => !steps.includes(at));
    return {
      confirmed: without(context.confirmed, captures),
      doubtful: without(context.doubtful, captures),
      changing: context.changing && isGone(context.changing) ? null : context.changing,
      ...(isGone(context.offered?.capture) ? { offered: null, isQuestioned: false } : {}),
      passed: without(context.passed, steps),
      checks: without(context.checks, answersOf(steps)),
      counted: without(context.counted, countsOf(steps)),
      chosen: Object.fromEntries(chosen) as CaseContext['chosen'],
      overridden: without(context.overridden, overridesOf(steps)),
    };
  }

  const pass =
    (type: 'step.finished' | 'step.leftOut' | 'step.doneAhead', how: Passed): Change =>
    ({ context, event }) => ({
      passed: { ...context.passed, [factOf(event, type).data.step]: how },
    });

  const areCompared = asksForPacks(compiled);
  /** Once a size has changed, what was compared with it is to be compared anew. */
  const compareAnew =
    (change: Change): Change =>
    (args) => {
      const changed = change(args);
      const isSame = !('confirmed' in changed) || changed.confirmed === args.context.confirmed;
      return areCompared && !isSame ? { ...changed, packsAgree: false } : changed;
    };

  const all = {
    begin: ({ context, event }) => {
      const { step } = factOf(event, 'step.begun').data;
      const captures = capturesOf([step]);
      return {
        confirmed: without(context.confirmed, captures),
        doubtful: without(context.doubtful, captures),
        checks: without(context.checks, answersOf([step])),
        counted: without(context.counted, countsOf([step])),
      };
    },
    finish: pass('step.finished', 'finished'),
    leaveOut: pass('step.leftOut', 'skipped'),
    doAhead: pass('step.doneAhead', 'finished'),
    loopBack: ({ context, event }) => {
      const { step } = factOf(event, 'step.finished').data;
      const loop = compiled.steps.get(step)?.loop;
      return loop ? { passed: without(context.passed, stepsFrom(loop.backTo, step)) } : {};
    },
    skip: ({ context, event }) => {
      const { step } = factOf(event, 'step.skipped').data;
      return { ...clear(context, [step]), passed: { ...context.passed, [step]: 'skipped' } };
    },
    reopen: ({ context, event }) => {
      const { from, to } = factOf(event, 'step.reopened').data;
      // What a loop left behind ahead of the track goes as well: it was chosen by what is done anew.
      return clear(context, stepsFrom(to, from), capturesOf(stepsFrom(to)));
    },
    choose: ({ context, event }) => {
      const { alternative, at, moved } = factOf(event, 'alternative.chosen').data;
      return { chosen: { ...context.chosen, [alternative]: { at, moved } } };
    },
    /** What lies between on the main line is neither done nor left out: another way was taken. */
    move: ({ context, event }) => {
      const { from, to } = factOf(event, 'track.moved').data;
      const between = stepsFrom(from, to).filter(
        (id) => id !== to && !(id in context.passed) && !compiled.steps.get(id)?.alternative,
      );
      const marks = Object.fromEntries(between.map((id) => [id, 'bypassed' as const]));
      return { passed: { ...context.passed, ...marks } };
    },
    offer: ({ event }) => ({
      offered: factOf(event, 'capture.offered').data,
      isQuestioned: false,
    }),
    confirm: ({ context, event }) => {
      const { capture, value } = factOf(event, 'capture.confirmed').data;
      return {
        confirmed: { ...context.confirmed, [capture]: value },
        doubtful: without(context.doubtful, [capture]),
        changing: context.changing === capture ? null : context.changing,
        offered: null,
        isQuestioned: false,
      };
    },
    dropOffer: () => ({ offered: null, isQuestioned: false }),
    question: () => ({ isQuestioned: true }),
    change: ({ event }) => ({ changing: factOf(event, 'capture.reopened').data.capture }),
    keep: () => ({ changing: null }),
    doubt: ({ context, event }) => {
      const { captures } = factOf(event, 'capture.doubted').data;
      const marks = Object.fromEntries(captures.map((id) => [id, true as const]));
      return { doubtful: { ...context.doubtful, ...marks } };
    },
    answer: ({ context, event }) => {
      const { step, item, answer } = factOf(event, 'check.answered').data;
      return { checks: { ...context.checks, [checkKey(step, item)]: answer } };
    },
    count: ({ context, event }) => {
      const { count, item, value, expected } = factOf(event, 'count.recorded').data;
      const isFirst = expected === null;
      const result = value !== null && (isFirst || value === expected) ? 'agrees' : 'differs';
      const counted = {
        ...context.counted,
        [count]: { ...context.counted[count], [item]: result },
      } as CaseContext['counted'];
      const next = { ...context, counted };
      const isRelieved = listUncounted(compiled.procedure, next, count).length === 0;
      const isRelief = compiled.procedure.counts.find(({ id }) => id === count)?.kind === 'relief';
      return {
        counted,
        ...(isFirst && value !== null
          ? {
              handedOut: {
                ...context.handedOut,
                [item]: { first: value, added: context.handedOut[item]?.added ?? 0 },
              },
            }
          : {}),
        ...(isRelief && isRelieved ? { isReliefDue: false } : {}),
      };
    },
    handOut: ({ context, event }) => {
      const { item, by } = factOf(event, 'count.added').data;
      const before = context.handedOut[item] ?? { first: 0, added: 0 };
      return {
        handedOut: { ...context.handedOut, [item]: { ...before, added: before.added + by } },
      };
    },
    handOver: ({ context, event }) => {
      const { role } = factOf(event, 'role.handedOver').data;
      const { roles, counts } = compiled.procedure;
      const relief = counts.find(({ kind }) => kind === 'relief')
        ?.id as keyof typeof context.counted;
      const isCounting = roles.some(({ id, countsOnRelief }) => id === role && countsOnRelief);
      return isCounting && relief
        ? { isReliefDue: true, counted: without(context.counted, [relief]) }
        : {};
    },
    startTimer: ({ context, event }) => ({
      running: { ...context.running, [factOf(event, 'timer.started').data.timer]: true },
    }),
    stopTimer: ({ context, event }) => ({
      running: without(context.running, [factOf(event, 'timer.stopped').data.timer]),
    }),
    holdClock: () => ({ isClockHeld: true }),
    resumeClock: () => ({ isClockHeld: false }),
    askOverride: ({ event }) => ({
      overrideAsked: pickAsked(factOf(event, 'override.requested').data),
    }),
    grantOverride: ({ context, event }) => {
      const { holdPoint, excused } = factOf(event, 'override.granted').data;
      const before = context.overridden[holdPoint] ?? [];
      const all = [...new Set([...before, ...excused])].sort((a, b) => a - b);
      return { overrideAsked: null, overridden: { ...context.overridden, [holdPoint]: all } };
    },
    dropOverride: () => ({ overrideAsked: null }),
    mute: () => ({ isMuted: true }),
    unmute: () => ({ isMuted: false }),
    /** The context as it was; a read-back that was open then is not put up again, nor a clock held that was resumed since. */
    restore: ({ context, event }) => ({
      ...(factOf(event, 'order.undone').data.restores.context as CaseContext),
      offered: null,
      isQuestioned: false,
      overrideAsked: null,
      isClockHeld: context.isClockHeld,
      isMuted: context.isMuted,
    }),
    comparePacks: ({ event }) => ({ packsAgree: factOf(event, 'packs.compared').data.agree }),
  } satisfies Record<string, Change>;

  return Object.fromEntries(
    Object.entries(all).map(([name, change]) => [name, compareAnew(change)]),
  ) as Record<keyof typeof all, Change>;
}

function pickAsked({
  holdPoint,
  excused,
}: NonNullable<CaseContext['overrideAsked']>): CaseContext['overrideAsked'] {
  return { holdPoint, excused };
}
