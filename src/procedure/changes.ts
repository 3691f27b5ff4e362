/**
 * What each fact does to the context. Every function returns only the keys that
 * change. Going back clears what was settled from the reopened step onward in its
 * track; other tracks are then looked at by decide.ts.
 */
import type { CaptureId, HoldPointId, StepId } from '../domain';
import type { CaseContext } from './context';
import { without } from './context';
import type { Lookups } from './lookups';
import type { MachineFact } from './machine-facts';

interface ChangeArgs {
  readonly context: CaseContext;
  readonly event: MachineFact;
}
type Change = (args: ChangeArgs) => Partial<CaseContext>;

/** Narrows the event; the machine's routing guarantees the type. */
function factOf<T extends MachineFact['type']>(
  event: MachineFact,
  type: T,
): Extract<MachineFact, { type: T }> {
  if (event.type !== type) throw new Error(`Expected the fact "${type}", received "${event.type}"`);
  return event as Extract<MachineFact, { type: T }>;
}

/** Makes the context changes for one procedure. */
export function changes(compiled: Lookups) {
  /** The steps of a track from one on, by their place in it. */
  function stepsFrom(step: StepId, upTo?: StepId): readonly StepId[] {
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

  /** Forgets what a stretch of steps had settled. */
  function clear(context: CaseContext, steps: readonly StepId[]): Partial<CaseContext> {
    const captures = capturesOf(steps);
    return {
      confirmed: without(context.confirmed, captures),
      offered:
        context.offered && captures.includes(context.offered.capture) ? null : context.offered,
      passed: without(context.passed, steps),
      overridden: without(context.overridden, overridesOf(steps)),
    };
  }

  return {
    begin: ({ context, event }) => ({
      confirmed: without(context.confirmed, capturesOf([factOf(event, 'step.begun').data.step])),
    }),
    finish: ({ context, event }) => ({
      passed: { ...context.passed, [factOf(event, 'step.finished').data.step]: 'finished' },
    }),
    loopBack: ({ context, event }) => {
      const { step } = factOf(event, 'step.finished').data;
      const loop = compiled.steps.get(step)?.loop;
      return loop ? { passed: without(context.passed, stepsFrom(loop.backTo, step)) } : {};
    },
    skip: ({ context, event }) => {
      const { step } = factOf(event, 'step.skipped').data;
      return { ...clear(context, [step]), passed: { ...context.passed, [step]: 'skipped' } };
    },
    reopen: ({ context, event }) =>
      clear(context, stepsFrom(factOf(event, 'step.reopened').data.to)),
    offer: ({ event }) => ({ offered: factOf(event, 'capture.offered').data }),
    confirm: ({ context, event }) => {
      const { capture, value } = factOf(event, 'capture.confirmed').data;
      return { confirmed: { ...context.confirmed, [capture]: value }, offered: null };
    },
    dropOffer: () => ({ offered: null }),
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
  } satisfies Record<string, Change>;
}

function pickAsked({
  holdPoint,
  excused,
}: NonNullable<CaseContext['overrideAsked']>): CaseContext['overrideAsked'] {
  return { holdPoint, excused };
}
