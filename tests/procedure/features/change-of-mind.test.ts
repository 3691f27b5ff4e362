/**
 * Changing one's mind on the whole flagship: a confirmed size corrected or kept, the last
 * order taken back, a step gone back to or left out, the clock held, the case given up.
 * Room makes sure after every order that the record only grows and replays to what is shown.
 */
import { describe, expect, it } from 'vitest';
import { Room } from './room';
import type { Said } from './room';

const change = (capture: string) => ({ type: 'capture.change', capture }) as const;
const done = (track: string) => ({ type: 'step.finish', track }) as const;
const undo = { type: 'order.undo' } as const;

describe('a size that is corrected', () => {
  it('[PRO85] keeps every entry, doubts what relied on it, and closes the hold points that asked for that', async () => {
    const room = await Room.at('screw-1-drill');
    expect([room.value('depth'), room.value('post'), room.passed('insert-baseplate')]).toEqual([24, 24, 'finished']); // prettier-ignore
    expect(await room.do(change('depth'), 'voice')).toEqual(['capture.reopened']);
    expect(room.view.reliance?.relied.map(({ label }) => label)).toEqual(['Post', 'Plate and post joined']); // prettier-ignore
    expect([room.value('depth'), room.at('field')]).toEqual([24, 'screw-1-drill']);
    expect(await room.do({ type: 'capture.offer', capture: 'depth', value: 28 })).toEqual(['capture.offered']); // prettier-ignore
    expect([room.value('depth'), room.at('field')]).toEqual([24, 'screw-1-drill']);
    const facts = await room.do({ type: 'capture.confirm' }, 'voice');
    expect(facts.slice(0, 2)).toEqual(['capture.confirmed', 'capture.doubted']);
    expect(room.entries.findLast(({ type }) => type === 'capture.doubted')?.data).toEqual({
      captures: ['post', 'coupled'],
      because: 'depth',
    });
    expect(room.value('depth')).toBe(28);
    expect([room.at('field'), room.stateOf('field')]).toEqual(['insert-baseplate', 'held']);
    expect([room.at('table'), room.stateOf('table')]).toEqual(['choose-post', 'doing']);
    expect(room.missing('baseplate')).toEqual(['Plate and post not joined']);
    expect(['post', 'coupled', 'fully-seated'].map((id) => room.value(id))).toEqual([undefined, undefined, undefined]); // prettier-ignore
    expect(['plate', 'wedge', 'pin-out'].map((id) => room.value(id))).toEqual(['large', 16, 'reported']); // prettier-ignore
    const depths = room.entries.flatMap(({ type, data }) =>
      type === 'capture.confirmed' && 'capture' in data && data.capture === 'depth' ? [data.value] : []); // prettier-ignore
    expect(depths).toEqual([24, 28]);
  });

  it('[PRO85] opens them again once what relied on it is confirmed anew', async () => {
    const room = await Room.at('screw-1-drill');
    await room.do(change('depth'));
    await room.give('depth', 28);
    expect(await room.refused({ type: 'step.begin', step: 'insert-baseplate' })).toBe('hold-point-closed'); // prettier-ignore
    expect(await room.refused({ type: 'capture.offer', capture: 'post', value: 24 })).toBe('hold-point-closed'); // prettier-ignore
    await room.give('post', 28);
    await room.give('coupled', 'reported');
    expect([room.missing('baseplate'), room.stateOf('field')]).toEqual([[], 'waiting']);
    await room.do({ type: 'step.begin', step: 'insert-baseplate' }, 'voice');
    await room.walk('screw-1-drill');
    expect([room.value('depth'), room.value('post'), room.doubtful]).toEqual([28, 28, []]);
  });

  it('[PRO85] holds a step that is in hand where it stands', async () => {
    const room = await Room.at('insert-baseplate');
    await room.walk('load-sphere');
    await room.do({ type: 'step.begin', step: 'insert-baseplate' });
    expect(room.stateOf('field')).toBe('doing');
    await room.do(change('depth'));
    expect(await room.give('depth', 16)).toContain('step.held');
    expect([room.at('field'), room.stateOf('field')]).toEqual(['insert-baseplate', 'held']);
  });

  it('[PRO85] one whose reliers have no hold point closed leaves them in doubt until each is said again', async () => {
    const room = await Room.at('take-liner');
    await room.walk('insert-stem');
    const broach = Number(room.value('broach'));
    await room.do(change('broach'));
    await room.give('broach', broach + 2);
    expect(room.doubtful).toEqual(['final-stem', 'trial-height']);
    expect(room.view.again.map(({ why }) => why)).toEqual(room.doubtful.map(() => 'doubtful'));
  });

  it('[PRO85] the same value again doubts nothing and moves nothing', async () => {
    const room = await Room.at('screw-1-drill');
    await room.do(change('depth'));
    expect(await room.give('depth', 24)).toEqual(['capture.offered', 'capture.confirmed']);
    expect([room.doubtful, room.at('field'), room.value('post')]).toEqual([[], 'screw-1-drill', 24]); // prettier-ignore
  });

  it('[PRO86] left as it was, everything is as before, an open read-back included', async () => {
    const room = await Room.at('screw-1-drill');
    const before = room.context;
    await room.do(change('depth'));
    expect(await room.do({ type: 'capture.keep' }, 'voice')).toEqual(['capture.kept']);
    expect(room.context).toEqual(before);
    await room.do(change('depth'));
    await room.do({ type: 'capture.offer', capture: 'depth', value: 28 });
    expect(await room.do({ type: 'capture.keep' })).toEqual(['capture.withdrawn', 'capture.kept']);
    expect([room.context, room.view.readBack]).toEqual([before, null]);
    expect(await room.refused({ type: 'capture.keep' })).toBe('nothing-to-keep');
  });

  it('[PRO86] only what is settled can be changed, and one thing at a time', async () => {
    const room = await Room.at('measure-depth');
    expect(await room.refused(change('depth'))).toBe('capture-not-settled');
    await room.do({ type: 'capture.offer', capture: 'depth', value: 24 });
    expect(await room.refused(change('wedge'))).toBe('read-back-open');
  });
});

/** Orders that move the case, each with the step or steps that the case goes to before, and what is ordered first. */
const UNDONE: readonly (readonly [string, string, string, readonly Said[], Said])[] = [
  ['reverse-shoulder', 'a step ended', 'sit-up', [], done('field')],
  ['reverse-shoulder', 'a size confirmed', 'measure-depth', [{ type: 'capture.offer', capture: 'depth', value: 24 }], { type: 'capture.confirm' }],
  ['reverse-shoulder', 'a size corrected', 'screw-1-drill', [change('depth'), { type: 'capture.offer', capture: 'depth', value: 28 }], { type: 'capture.confirm' }],
  ['reverse-shoulder', 'an answer', 'sign-in', [], { type: 'check.answer', step: 'sign-in', item: 'site', answer: 'yes' }],
  ['reverse-shoulder', 'a count', 'count-closure', [], { type: 'count.record', count: 'closure', item: 'swabs', value: 19 }],
  ['reverse-shoulder', 'an addition', 'expose', [], { type: 'count.add', item: 'swabs', by: 5 }],
  ['reverse-shoulder', 'a step left out', 'place-block', [], { type: 'step.leaveOut', step: 'place-block' }],
  ['reverse-shoulder', 'a step skipped', 'ream', [], { type: 'step.skip', track: 'field', reason: 'reamed before' }],
  ['reverse-shoulder', 'a step gone back to', 'drill-post', [], { type: 'step.goBack', track: 'field' }],
  ['reverse-shoulder', 'a step reported ahead', 'clear-rim', [], { type: 'step.reportAhead', step: 'open-canal' }],
  ['reverse-shoulder', 'another way', 'drill-post', [], { type: 'alternative.choose', alternative: 'head-only' }],
  ['reverse-shoulder', 'a group ended', 'screw-2-choose', [], { type: 'group.finish', group: 'screw' }],
  ['reverse-shoulder', 'a step begun', 'insert-baseplate load-sphere', [], { type: 'step.begin', step: 'insert-baseplate' }],
  ['reverse-shoulder', 'a role handed over', 'expose', [], { type: 'role.handOver', role: 'scrub', label: 'scrub B' }],
  ['cemented-hip', 'a timer started', 'expose', [], { type: 'timer.start', timer: 'cement' }],
  ['cemented-hip', 'a timer stopped', 'expose', [{ type: 'timer.start', timer: 'cement' }], { type: 'timer.stop', timer: 'cement' }],
]; // prettier-ignore

describe('the last order taken back', () => {
  it.each(UNDONE)('[PRO87] %s: %s', async (procedure, _, step, first, order) => {
    const room = await Room.open(procedure);
    for (const stop of step.split(' ')) await room.walk(stop);
    for (const one of first) await room.do(one);
    const before = { context: room.context, shown: shownOf(room) };
    await room.do(order);
    expect(shownOf(room)).not.toEqual(before.shown);
    expect(await room.do(undo, 'voice')).toEqual(['order.undone']);
    // A read-back that was open is not put up again: what is not confirmed counts for nothing.
    expect(room.context).toEqual({ ...before.context, offered: null });
    expect(shownOf(room)).toEqual(before.shown);
    expect(await room.refused(undo)).toBe('nothing-to-undo');
  });

  it('[PRO87] an override granted closes its hold point again', async () => {
    const room = await Room.at('align-reamer');
    const point = room.view.holdPoints.find(({ state, id }) => state === 'closed' && String(id) === 'baseplate'); // prettier-ignore
    await room.do({ type: 'override.request', holdPoint: point?.id, reason: 'No gauge' });
    await room.do({ type: 'override.confirm' });
    expect(Object.keys(room.context.overridden)).toEqual(['baseplate']);
    await room.do(undo);
    expect(Object.keys(room.context.overridden)).toEqual([]);
  });
});

/** What the screens show of the case itself, without what was said last and without times. */
function shownOf(room: Room): object {
  const { view } = room;
  return {
    tracks: view.tracks.map(({ id, state, current, steps }) => [id, state, current?.step, current?.round, steps.map(({ place, rounds }) => [place, rounds])]),
    wanted: view.wanted, counts: view.counts, handedOut: view.handedOut, checklists: view.checklists,
    timers: view.timers, tallies: view.tallies, roles: view.roleHolders, alternatives: view.alternatives,
    holdPoints: view.holdPoints, isReliefDue: view.isReliefDue, again: view.again,
    sizes: view.sizes.map(({ label, parts }) => (label === 'Depth' ? [] : parts)),
  }; // prettier-ignore
}

describe('other ways to change one’s mind', () => {
  it('[PRO88] going back reopens the last step and clears what it and later ones had settled', async () => {
    const room = await Room.at('drill-post');
    await room.do({ type: 'step.goBack', track: 'field' }, 'voice');
    expect([room.at('field'), room.value('depth'), room.value('seating')]).toEqual(['measure-depth', undefined, 'even']); // prettier-ignore
    expect(room.missing('post-drill')).toEqual(['Depth not confirmed']);
    await room.give('depth', 20);
    expect(room.at('field')).toBe('drill-post');
  });

  it('[PRO88] where it would reopen what the table has done, the desk alone may', async () => {
    const room = await Room.at('insert-baseplate');
    await room.walk('load-sphere');
    await room.do({ type: 'step.goBack', track: 'field' });
    await room.do({ type: 'step.goBack', track: 'field' });
    expect(room.at('field')).toBe('drill-post');
    const back = { type: 'step.goBack', track: 'field' } as const;
    expect(await room.refused(back, 'voice')).toBe('go-back-reaches-far');
    await room.do(back);
    expect([room.at('field'), room.at('table')]).toEqual(['measure-depth', 'choose-post']);
  });

  it('[PRO89] a step is skipped at the desk, with a reason, and never one that a hold point holds', async () => {
    const room = await Room.at('ream');
    const skip = (reason: string) => ({ type: 'step.skip', track: 'field', reason }) as const;
    expect(await room.refused(skip('reamed before'), 'voice')).toBe('skip-only-at-desk');
    expect(await room.refused(skip('  '))).toBe('skip-needs-reason');
    await room.do(skip('reamed before'));
    expect([room.passed('ream'), room.at('field')]).toEqual(['skipped', 'try-seat']);
    expect(room.entries.find(({ type }) => type === 'step.skipped')?.data).toMatchObject({ reason: 'reamed before' }); // prettier-ignore
    await room.walk('measure-depth');
    await room.do(skip('gauge broken'));
    expect([room.at('field'), room.stateOf('field')]).toEqual(['drill-post', 'held']);
    expect(await room.refused(skip('gauge broken'))).toBe('hold-point-closed');
  });

  it('[PRO90] while the clock is held nothing moves, but sizes are taken; resumed, all goes on', async () => {
    const room = await Room.at('measure-depth');
    await room.do({ type: 'clock.hold', reason: 'Imaging' }, 'voice');
    expect(await room.refused({ type: 'clock.hold', reason: 'Imaging' })).toBe('clock-already-held'); // prettier-ignore
    expect(await room.give('depth', 24)).toEqual(['capture.offered', 'capture.confirmed']);
    for (const order of [done('field'), { type: 'step.goBack', track: 'field' }, { type: 'alternative.choose', alternative: 'head-only' }, undo] as const)
      expect(await room.refused(order)).toBe('clock-held'); // prettier-ignore
    expect([room.at('field'), room.value('depth')]).toEqual(['measure-depth', 24]);
    expect(room.words).toContain('resume the clock');
    expect((await room.do({ type: 'clock.resume' }, 'voice'))[0]).toBe('clock.resumed');
    expect([room.at('field'), room.stateOf('field')]).toEqual(['drill-post', 'doing']);
    expect(await room.refused({ type: 'clock.resume' })).toBe('clock-not-held');
  });

  it('[PRO90] a clock that was resumed is not held again by taking back what was confirmed meanwhile', async () => {
    const room = await Room.at('measure-depth');
    await room.do({ type: 'clock.hold', reason: 'Imaging' });
    await room.give('depth', 24);
    await room.do({ type: 'clock.resume' });
    await room.do(undo);
    expect([room.value('depth'), room.view.clockHold, room.context.isClockHeld]).toEqual([undefined, null, false]); // prettier-ignore
    await room.give('depth', 20);
    expect(room.at('field')).toBe('drill-post');
  });

  it('[PRO91] a case given up is closed with its reason, its read-back withdrawn, and takes no more', async () => {
    const room = await Room.at('measure-depth');
    await room.do({ type: 'capture.offer', capture: 'depth', value: 24 });
    const close = { type: 'case.close', outcome: 'abandoned', reason: 'Patient unwell' } as const;
    expect(await room.do(close)).toEqual(['capture.withdrawn', 'case.closed']);
    expect([room.view.status, room.view.outcome, room.value('depth')]).toEqual(['closed', 'abandoned', undefined]); // prettier-ignore
    expect(room.words).toEqual([]);
    for (const order of [done('field'), close, { type: 'capture.confirm' }, undo] as const)
      expect(await room.refused(order)).toBe('case-closed');
  });
});
