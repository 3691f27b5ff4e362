/**
 * What the look back makes of a last order that was taken back, in cases that the real
 * session ran. Every expected duration is the sum of the seconds that the test lets pass;
 * what counts is what the wall shows after the order was taken back.
 */
import { describe, expect, test } from 'vitest';
import type { Entry } from '../../src/domain';
import { digestCase, foldTimes, listOverrides, tabulatePhases } from '../../src/review';
import { findStanding } from '../../src/review/forecast/standing';
import { Room } from '../procedure/features/room';
import type { Said } from '../procedure/features/room';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';

const SECOND = 1000;
const undo = { type: 'order.undo' } as const;
const change = (capture: string): Said => ({ type: 'capture.change', capture });
const offer = (capture: string, value: unknown): Said => ({
  type: 'capture.offer',
  capture,
  value,
});

function lastOf(entries: readonly Entry[]): Entry {
  const last = entries.at(-1);
  if (!last) throw new Error('A case has an opening');
  return last;
}

/** Orders that end, begin or move steps: procedure, where it stands before, what is ordered first. */
const ORDERS: readonly (readonly [string, string, string, readonly Said[], Said])[] = [
  ['reverse-shoulder', 'a step ended', 'sit-up', [], { type: 'step.finish', track: 'field' }],
  ['reverse-shoulder', 'a size corrected, and a step held by it', 'screw-1-drill', [change('depth'), offer('depth', 28)], { type: 'capture.confirm' }],
  ['reverse-shoulder', 'a step left out', 'place-block', [], { type: 'step.leaveOut', step: 'place-block' }],
  ['reverse-shoulder', 'a step skipped', 'ream', [], { type: 'step.skip', track: 'field', reason: 'reamed before' }],
  ['reverse-shoulder', 'a step gone back to', 'drill-post', [], { type: 'step.goBack', track: 'field' }],
  ['reverse-shoulder', 'another way', 'drill-post', [], { type: 'alternative.choose', alternative: 'head-only' }],
  ['reverse-shoulder', 'a group ended', 'screw-2-choose', [], { type: 'group.finish', group: 'screw' }],
]; // prettier-ignore

describe('a last order that was taken back', () => {
  test('[REV73] the step that it ended goes on as if it had never been ended', async () => {
    const { session, say } = await openSampleCase();
    await say('+240', 'step done', '+120', 'step done', '+2', 'undo last order');
    await say('+600', 'step done', '+30');
    const { entries, view } = session;
    expect(entries.filter(({ type }) => type === 'order.undone')).toHaveLength(1);
    const times = foldTimes(entries, view.outline);
    const [exposure] = tabulatePhases(times, view.outline, lastOf(entries));
    expect(exposure).toMatchObject({ totalMs: 962 * SECOND, workMs: 962 * SECOND, repeats: 0 });
    const field = times.steps.filter(({ track }) => track === 'field');
    expect(field.map(({ round, ending }) => [round, ending])).toEqual([
      [1, 'finished'],
      [1, 'finished'],
      [1, null],
    ]);
    expect(times.marks.map(({ kind, text }) => [kind, text])).toEqual([['undone', 'step.finish']]);
    expect(digestCase(entries, view.outline)?.phases[0]?.passesMs).toEqual([962 * SECOND]);
    expect(findStanding(entries, view.outline, lastOf(entries), false).done).toEqual([
      { phase: exposure?.phase, firstMs: 962 * SECOND },
    ]);
  });

  test.each(ORDERS)(
    '[REV73] %s: %s, taken back, leaves the same spans and marks as before',
    { timeout: 30_000 },
    async (procedure, _, step, first, order) => {
      const room = await Room.at(step, procedure);
      for (const one of first) await room.do(one);
      const before = foldTimes(room.entries, room.view.outline);
      const { length: count } = before.marks;
      const spans = JSON.stringify(before.steps);
      await room.do(order);
      expect(JSON.stringify(foldTimes(room.entries, room.view.outline).steps)).not.toBe(spans);
      await room.do({ type: 'milestone.mark', milestone: 'PC' });
      await room.do({ type: 'clock.hold', reason: 'Imaging' });
      await room.do({ type: 'clock.resume' });
      await room.do(undo);
      const after = foldTimes(room.entries, room.view.outline);
      expect(JSON.stringify(after.steps)).toBe(spans);
      // What is nobody's step stays: a named time, and a clock that was held meanwhile.
      expect(after.clockHolds).toMatchObject([{ reason: 'Imaging', to: { run: 'run-1' } }]);
      const added = after.marks.slice(count).map(({ kind }) => kind);
      expect(after.marks.slice(0, count)).toEqual(before.marks);
      expect(added).toEqual(['milestone', 'undone']);
    },
  );

  test('[REV73] a loop that was gone back on is no repeat', async () => {
    const { session, say } = await openSampleCase();
    await say(...WHOLE_CASE.slice(0, WHOLE_CASE.indexOf('trial still rocks')));
    await say('trial still rocks', '+3', 'confirm');
    const outline = session.view.outline;
    const loops = () =>
      foldTimes(session.entries, outline).marks.filter(({ kind }) => kind === 'loop');
    expect(loops()).toHaveLength(1);
    await say('+4', 'undo last order', '+60', 'trial seats evenly', '+3', 'confirm', '+20');
    expect(loops()).toEqual([]);
    const digest = digestCase(session.entries, outline);
    expect(digest?.phases.map(({ passesMs }) => passesMs.length)).toEqual(
      digest?.phases.map(() => 1),
    );
    const { marks, steps } = foldTimes(session.entries, outline);
    expect(marks.filter(({ size }) => !size).map(({ kind }) => kind)).toEqual(['undone']);
    // Seating was confirmed twice; the first time was taken back.
    const seating = marks.filter(({ size }) => String(size?.capture) === 'seating');
    expect(seating.map(({ kind, size }) => [kind, size?.value])).toEqual([['confirmed', 'even']]);
    expect(steps.filter(({ round }) => round > 1)).toEqual([]);
  });

  test('[REV73] an override that was taken back passed nothing', async () => {
    const room = await Room.at('align-reamer');
    await room.do({ type: 'override.request', holdPoint: 'baseplate', reason: 'No gauge' });
    await room.do({ type: 'override.confirm' });
    const counted = () => digestCase(room.entries, room.view.outline)?.overrides.length;
    expect([listOverrides(room.entries).map(({ outcome }) => outcome), counted()]).toEqual([['granted'], 1]); // prettier-ignore
    await room.do(undo);
    expect([listOverrides(room.entries).map(({ outcome }) => outcome), counted()]).toEqual([['undone'], 0]); // prettier-ignore
  });
});

describe('a step that is left before it is done', () => {
  test.each([
    [
      'one that is optional',
      'place-block',
      { type: 'step.leaveOut', step: 'place-block' },
      'leftOut',
    ],
    [
      'for another way',
      'drill-post',
      { type: 'alternative.choose', alternative: 'head-only' },
      'moved',
    ],
  ])('[REV7] %s takes no time from then on', async (_, step, order, ending) => {
    const room = await Room.at(step);
    const begun = room.entries.findLast((entry) => entry.type === 'step.begun' && entry.data.step === step); // prettier-ignore
    await room.wait(2);
    await room.do(order as Said);
    const left = lastOf(room.entries);
    await room.wait(5);
    const { steps } = foldTimes(room.entries, room.view.outline);
    const span = steps.find((found) => found.step === step);
    expect(span).toMatchObject({ ending, from: { mono: begun?.mono }, to: { mono: left.mono } });
    // The two minutes, and the second in which the order was given.
    expect((span?.to?.mono ?? 0) - (span?.from.mono ?? 0)).toBe(121 * SECOND);
    const phase = digestCase(room.entries, room.view.outline)?.phases.find((row) => row.phase === span?.phase); // prettier-ignore
    if (ending === 'moved') expect(phase?.isWhole).toBe(false);
  });
});
