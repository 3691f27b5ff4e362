/**
 * Checklists and counts of the whole flagship. Common practice: a first count, every addition
 * at once, a count before closure and a last one, one more when somebody who counts is relieved;
 * a difference is told and settled before sign-out.
 */
import { describe, expect, it } from 'vitest';
import { Room } from './room';

const field = { type: 'step.finish', track: 'field' } as const;
const answer = (step: string, item: string, how = 'yes') =>
  ({ type: 'check.answer', step, item, answer: how }) as const;
const count = (name: string, item: string, value: number | null) =>
  ({ type: 'count.record', count: name, item, value }) as const;
const SIGN_IN = ['identity', 'site', 'allergies', 'airway', 'monitor', 'machine', 'blood'];
/** What the flagship's file says that its sets hold. */
const SETS: readonly (readonly [string, number])[] = [['swabs', 20], ['sharps', 8], ['tools', 64]]; // prettier-ignore

async function countAll(room: Room, name: string): Promise<void> {
  for (const [item, value] of SETS) await room.do(count(name, item, value));
}

describe('a checklist', () => {
  it('[PRO76] is not finished before every line is answered', async () => {
    const room = await Room.at('sign-in');
    for (const item of SIGN_IN) {
      expect(await room.refused(field)).toBe('step-needs-answers');
      expect(room.passed('sign-in')).toBeUndefined();
      await room.do(answer('sign-in', item));
    }
    expect(room.at('field')).toBe('sign-in');
    await room.do(field, 'voice');
    expect(room.at('field')).toBe('place-block');
  });

  it('[PRO76] a "no" leaves its line open, takes a yes back too, and "not applicable" closes it', async () => {
    const room = await Room.at('sign-in');
    for (const item of SIGN_IN) await room.do(answer('sign-in', item));
    await room.do(answer('sign-in', 'blood', 'no'));
    expect(await room.refused(field)).toBe('step-needs-answers');
    expect(room.view.checklists[0]?.items.at(-1)?.answer).toBe('no');
    expect(room.words).toContain('blood planned');
    await room.do(answer('sign-in', 'blood', 'not-applicable'));
    await room.do(field);
    expect(room.at('field')).toBe('place-block');
  });

  it('[PRO76] takes no answer for a step that is not in hand, nor for a line that it lacks', async () => {
    const room = await Room.at('sign-in');
    expect(await room.refused(answer('time-out', 'names'))).toBe('check-not-open');
    expect(await room.refused(answer('sign-in', 'names'))).toBe('check-not-open');
  });

  it('[PRO76] asks every line anew when its step is gone back to', async () => {
    const room = await Room.at('incise');
    await room.do({ type: 'step.goBack', track: 'field' });
    expect(room.at('field')).toBe('time-out');
    expect(room.view.checklists[0]?.items.map(({ answer: given }) => given)).toEqual(Array(7).fill(null)); // prettier-ignore
    expect(room.missing('incision')).toContain('Time out not finished');
    expect(await room.refused(field)).toBe('step-needs-answers');
  });
});

describe('counts', () => {
  it('[PRO77] a step with a count is not finished before every item is counted', async () => {
    const room = await Room.at('count-closure');
    for (const [item, value] of SETS) {
      expect(await room.refused(field)).toBe('step-needs-counts');
      await room.do(count('closure', item, value));
    }
    await room.do(field);
    expect(room.at('field')).toBe('close-deep');
  });

  it('[PRO77] a difference holds sign-out until it is counted again and agrees', async () => {
    const room = await Room.at('count-closure');
    await room.do(count('closure', 'sharps', 8));
    await room.do(count('closure', 'tools', 64));
    await room.do(count('closure', 'swabs', 19));
    await room.do(field);
    expect(room.missing('sign-out')).toContain('Closure count does not agree');
    await room.walk('count-final');
    await countAll(room, 'final');
    await room.walk('sign-out');
    expect(room.stateOf('field')).toBe('held');
    expect(await room.refused({ type: 'step.begin', step: 'sign-out' })).toBe('hold-point-closed');
    expect(await room.refused({ type: 'step.skip', track: 'field', reason: 'late' })).toBe('hold-point-closed'); // prettier-ignore
    await room.do(count('closure', 'swabs', 20));
    expect([room.at('field'), room.stateOf('field')]).toEqual(['sign-out', 'doing']);
  });

  it('[PRO77] or until the desk overrides it: with a reason, a second confirmation, never by voice', async () => {
    const room = await Room.at('count-final');
    await countAll(room, 'final');
    await room.do(count('final', 'sharps', null), 'voice');
    await room.do(field);
    await room.walk('sign-out');
    expect(room.missing('sign-out')).toEqual(['Last count does not agree']);
    const ask = { type: 'override.request', holdPoint: 'sign-out', reason: 'X-ray shows none' } as const; // prettier-ignore
    expect(await room.refused(ask, 'voice')).toBe('override-only-at-desk');
    expect(await room.refused({ ...ask, reason: ' ' })).toBe('override-needs-reason');
    await room.do(ask);
    expect(room.stateOf('field')).toBe('held');
    expect(await room.refused({ type: 'override.confirm' }, 'voice')).toBe('override-only-at-desk');
    await room.do({ type: 'override.confirm' });
    expect([room.at('field'), room.stateOf('field')]).toEqual(['sign-out', 'doing']);
    expect(room.missing('sign-out')).toEqual(['Last count does not agree']);
    expect(room.entries.find(({ type }) => type === 'override.requested')?.data).toMatchObject({ reason: 'X-ray shows none', missing: ['Last count does not agree'] }); // prettier-ignore
  });

  it('[PRO78] what is handed out or taken back changes what every later count must agree with', async () => {
    const room = await Room.at('expose');
    await room.do({ type: 'count.add', item: 'swabs', by: 10 });
    await room.do({ type: 'count.add', item: 'swabs', by: -5 });
    expect(room.view.handedOut.find(({ item }) => item === 'swabs')).toMatchObject({ first: 20, added: 5 }); // prettier-ignore
    await room.walk('count-closure');
    const swabs = () =>
      room.view.counts.find((one) => one.count === 'closure')?.items.find(({ item }) => item === 'swabs'); // prettier-ignore
    expect(swabs()?.expected).toBe(25);
    await room.do(count('closure', 'swabs', 20));
    expect(swabs()?.result).toBe('differs');
    await room.do(count('closure', 'swabs', 25));
    expect(swabs()?.result).toBe('agrees');
  });

  it('[PRO78] nothing is added before the first count, nor taken below none, nor to an item that is not counted', async () => {
    const room = await Room.open();
    const add = (item: string, by: number) => ({ type: 'count.add', item, by }) as const;
    expect(await room.refused(add('swabs', 5))).toBe('count-needs-baseline');
    await room.walk('incise');
    expect(await room.refused(add('swabs', -21))).toBe('count-needs-baseline');
    expect(await room.refused(add('swabs', 0.5))).toBe('count-needs-baseline');
    expect(await room.refused(add('needle-boxes', 1))).toBe('unknown-name');
  });

  it('[PRO79] a relief count is due when somebody else counts on, and holds sign-out until it agrees', async () => {
    const room = await Room.at('expose');
    const relief = () => room.view.counts.find((one) => one.count === 'relief')?.isNow;
    const handOver = (role: string) => ({ type: 'role.handOver', role, label: 'B' }) as const;
    await room.do(handOver('anaesthetist'));
    expect([room.view.isReliefDue, room.missing('sign-out')]).toEqual([false, ['Closure count does not agree', 'Last count does not agree']]); // prettier-ignore
    expect(await room.refused(count('relief', 'swabs', 20))).toBe('count-not-open');
    expect(await room.refused(handOver('scrub'), 'voice')).toBe('desk-only');
    await room.do(handOver('scrub'));
    expect([room.view.isReliefDue, relief()]).toEqual([true, true]);
    expect(room.missing('sign-out')).toContain('Relief count is due or differs');
    await room.do(count('relief', 'swabs', 20));
    await room.do(count('relief', 'sharps', 7));
    await room.do(count('relief', 'tools', 64));
    expect(room.missing('sign-out')).toContain('Relief count is due or differs');
    await room.do(count('relief', 'sharps', 8));
    expect(room.view.isReliefDue).toBe(false);
    expect(room.missing('sign-out')).not.toContain('Relief count is due or differs');
  });

  it('[PRO79] each relief asks for a whole new count', async () => {
    const room = await Room.at('expose');
    await room.do({ type: 'role.handOver', role: 'scrub', label: 'B' });
    await countAll(room, 'relief');
    expect(room.view.isReliefDue).toBe(false);
    await room.do({ type: 'role.handOver', role: 'circulating', label: 'C' });
    expect(room.view.isReliefDue).toBe(true);
    await room.do(count('relief', 'swabs', 20));
    await room.do(count('relief', 'tools', 64));
    expect(room.view.isReliefDue).toBe(true);
    await room.do(count('relief', 'sharps', 8));
    expect(room.view.isReliefDue).toBe(false);
  });
});
