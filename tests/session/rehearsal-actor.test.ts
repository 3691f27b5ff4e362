/**
 * The actor that writes the script of a spoken case, on every built-in procedure; and what
 * the other operations refuse, tried by an actor that says it (common practice: parts that
 * don't belong together are not put together).
 */
import { describe, expect, it } from 'vitest';
import { openCase } from '../../src/cli/rehearsal-case';
import { VirtualClock } from '../../src/cli/virtual-room';
import { REHEARSAL_PLANS, writeScript } from '../../src/session';
import type { RehearsalPlan } from '../../src/session';

const planOf = (name: string): RehearsalPlan => {
  const plan = REHEARSAL_PLANS.find(({ procedure }) => procedure === name);
  if (!plan) throw new Error(`No plan for ${name}`);
  return plan;
};

async function write(plan: RehearsalPlan) {
  const clock = new VirtualClock(0);
  const running = await openCase(clock, {
    procedure: plan.procedure,
    side: plan.side,
    plan: {},
  });
  const advance = (ms: number) => {
    clock.advance(ms);
  };
  return { running, ...(await writeScript({ running, advance }, plan)) };
}

/** Changed sizes, and what must follow them: the post equals the depth, the sleeve goes with the screw. */
const MEANT: Readonly<Record<string, Readonly<Record<string, string | number>>>> = {
  'reverse-shoulder-glenoid': { wedge: 16, depth: 28, post: 28, plate: 'small', sphere: 40 },
  'reverse-shoulder': { wedge: 16, depth: 28, post: 28, stability: 'stable', sphere: 40 },
  'wrist-plate': { breadth: 'medium', 'plate-opened': 'medium', 'shaft-size': 2.6, 'sleeve-fitted': 1.9 },
  'cemented-hip': { cup: 54, liner: 32, head: 32, stem: 2, 'stem-taper': 12, 'head-taper': 12 },
}; // prettier-ignore

/** Whole cases of a hundred lines, on a machine that does other things as well. */
const LONG = { timeout: 120_000 };

describe('the actor of a rehearsal', () => {
  it.each(Object.keys(MEANT))(
    '[SES60] writes the whole case of %s, every scene of its plan played',
    LONG,
    async (name) => {
      const { running, stuck, meant } = await write(planOf(name));
      expect(stuck).toBeNull();
      expect(running.view.status).toBe('complete');
      expect(Object.fromEntries(meant)).toMatchObject(MEANT[name] ?? {});
      const confirmed = new Map<string, unknown>();
      for (const { type, data } of running.entries)
        if (type === 'capture.confirmed') confirmed.set(data.capture, data.value);
      expect(Object.fromEntries(confirmed)).toMatchObject(MEANT[name] ?? {});
    },
  );

  it('[SES60] says which scene was never played', LONG, async () => {
    const plan = planOf('reverse-shoulder-glenoid');
    const scenes = [...plan.scenes, { at: 'no-such-step', say: 'what is next' }];
    expect((await write({ ...plan, scenes })).stuck).toContain('no-such-step');
  });
});

/** A value that must be refused, the values it is refused by, and where the actor then stands. */
const REFUSED: readonly (readonly [
  procedure: string,
  values: Readonly<Record<string, string | number>>,
  wrong: string,
  value: string | number,
  at: string,
])[] = [
  ['cemented-hip', { cup: 46, liner: 28, head: 28 }, 'liner', 36, 'choose-liner'],
  ['cemented-hip', {}, 'head', 28, 'open-head'],
  ['cemented-hip', {}, 'head-taper', 10, 'open-head'],
  ['wrist-plate', {}, 'plate-opened', 'broad', 'open-plate'],
  ['wrist-plate', {}, 'sleeve-fitted', 1.9, 'fit-sleeve'],
];

describe('the other operations', () => {
  it.each(REFUSED)(
    '[PRO60] %s with %j refuses %s %s',
    LONG,
    async (name, values, wrong, value, at) => {
      const plan = planOf(name);
      const { running } = await write({
        ...plan,
        values: { ...plan.values, ...values },
        scenes: [{ at, wrong, value }],
      });
      const refused = running.entries.flatMap((entry) =>
        entry.type === 'order.refused' && entry.data.order?.type === 'capture.offer'
          ? [[entry.data.code, entry.data.order.capture, entry.data.order.value]]
          : [],
      );
      expect(refused).toContainEqual(['constraint-broken', wrong, value]);
      const taken = running.entries.filter(
        ({ type, data }) =>
          type === 'capture.offered' && data.capture === wrong && data.value === value,
      );
      expect(taken).toEqual([]);
    },
  );

  it(
    '[PRO61] asks for the cement clock before the stem, and undoes nothing when it stops',
    LONG,
    async () => {
      const { running } = await write(planOf('cemented-hip'));
      const { entries } = running;
      const early = entries.find(
        ({ type, data }) => type === 'order.refused' && data.holdPoint === 'stem-in',
      );
      const started = entries.findIndex(
        ({ type, data }) => type === 'timer.started' && data.timer === 'cement',
      );
      const stem = entries.findIndex(
        ({ type, data }) => type === 'step.begun' && data.step === 'place-stem',
      );
      const stopped = entries.findIndex(
        ({ type, data }) => type === 'timer.stopped' && data.timer === 'cement',
      );
      expect(early).toBeDefined();
      expect(started).toBeGreaterThan(-1);
      expect(stem).toBeGreaterThan(started);
      expect(stopped).toBeGreaterThan(stem);
      const undone = entries.slice(stopped).filter(({ type }) => type === 'step.reopened');
      expect(undone).toEqual([]);
    },
  );
});
