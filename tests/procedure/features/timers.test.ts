/** Timers and tallies of the whole flagship, and of the cemented hip; the clock is moved by hand. */
import { describe, expect, it } from 'vitest';
import { Room } from './room';

const timerOf = (room: Room, timer: string) =>
  room.view.timers.find((one) => String(one.timer) === timer);
const running = (room: Room) => Object.keys(room.context.running).sort();
const answer = (timer: string) => ({ type: 'timer.answer', timer }) as const;
/** Four hours to the next dose, as the flagship's file says and cites (Bratzler 2013, AJHP 70:195, Table 1). */
const DOSE_MIN = 240;
type Timers = { timers: { id: string; repeat?: string }[] };

describe('timers', () => {
  it('[PRO82] start and stop with their events: the dose, the incision, the drying skin, the soak', async () => {
    const room = await Room.at('give-antibiotic');
    expect(running(room)).toEqual([]);
    await room.give('antibiotic-in', 'reported');
    expect(running(room)).toEqual(['antibiotic', 'incision-window']);
    await room.walk('prepare-skin');
    expect(running(room)).toEqual(['antibiotic', 'incision-window']);
    await room.do({ type: 'step.finish', track: 'field' });
    expect(running(room)).toEqual(['antibiotic', 'incision-window', 'skin-drying']);
    await room.walk('time-out');
    expect(running(room)).toEqual(['antibiotic', 'incision-window']);
    await room.walk('open-interval');
    expect(running(room)).toEqual(['antibiotic']);
    await room.walk('soak');
    expect(running(room)).toEqual(['antibiotic', 'soak']);
    await room.do({ type: 'step.finish', track: 'field' });
    expect(running(room)).toEqual(['antibiotic']);
  });

  it('[PRO82] one that runs once is due once', async () => {
    const room = await Room.at('prepare-skin');
    await room.do({ type: 'step.finish', track: 'field' });
    expect(await room.wait(2.9)).toEqual([]);
    expect(timerOf(room, 'skin-drying')?.isDue).toBe(false);
    expect(await room.wait(0.1)).toEqual(['timer.due']);
    expect(timerOf(room, 'skin-drying')?.isDue).toBe(true);
    expect(await room.wait(30)).toEqual([]);
  });

  it('[PRO83] from its answer: due, quiet until answered, then due again as long after the answer', async () => {
    const room = await Room.at('incise');
    await room.walk('open-interval');
    await room.wait(DOSE_MIN);
    expect(timerOf(room, 'antibiotic')).toMatchObject({ isDue: true, answerSay: 'dose repeated' });
    expect(room.words).toContain('dose repeated');
    expect(await room.wait(DOSE_MIN)).toEqual([]);
    await room.do(answer('antibiotic'), 'voice');
    expect(timerOf(room, 'antibiotic')?.isDue).toBe(false);
    expect(await room.wait(DOSE_MIN - 0.1)).toEqual([]);
    expect(await room.wait(0.1)).toEqual(['timer.due']);
  });

  it('[PRO83] from its start: due again after every interval, answered or not', async () => {
    const room = await Room.open('reverse-shoulder', (file) => {
      const timer = (file as unknown as Timers).timers.find(({ id }) => id === 'antibiotic');
      if (timer) timer.repeat = 'from-start';
    });
    await room.walk('give-antibiotic');
    await room.give('antibiotic-in', 'reported');
    const dues = async (minutes: number) =>
      (await room.wait(minutes), room.entries.filter(({ type, data }) => type === 'timer.due' && 'timer' in data && String(data.timer) === 'antibiotic').length); // prettier-ignore
    expect(await dues(DOSE_MIN)).toBe(1);
    expect(await dues(DOSE_MIN - 1)).toBe(1);
    expect(await dues(1)).toBe(2);
    await room.wait(100);
    await room.do(answer('antibiotic'));
    expect(await dues(DOSE_MIN - 101)).toBe(2);
    expect(await dues(1)).toBe(3);
  });

  it('[PRO83] by hand: refused while it runs, refused while it does not, and only the wall says due', async () => {
    const room = await Room.at('expose', 'cemented-hip');
    const by = (type: 'timer.start' | 'timer.stop' | 'timer.answer' | 'timer.remind') =>
      ({ type, timer: 'cement' }) as const;
    expect(await room.refused(by('timer.stop'))).toBe('timer-not-running');
    expect(await room.refused(by('timer.answer'))).toBe('timer-not-running');
    await room.do(by('timer.start'), 'voice');
    expect(await room.refused(by('timer.start'))).toBe('timer-running');
    expect(await room.refused(by('timer.remind'), 'desk')).toBe('desk-only');
    expect(await room.wait(3)).toEqual(['timer.due']);
    await room.do(by('timer.stop'));
    expect(running(room)).not.toContain('cement');
    expect(await room.wait(30)).toEqual([]);
  });
});

describe('tallies', () => {
  it('[PRO84] add up from any source; only the desk takes one back', async () => {
    const room = await Room.at('ream');
    const add = (by: number, tally = 'images') => ({ type: 'tally.add', tally, by }) as const;
    const total = () => room.view.tallies.find(({ tally }) => String(tally) === 'images')?.total;
    expect(total()).toBe(0);
    await room.do(add(1), 'voice');
    await room.do(add(1), 'pedal');
    expect(total()).toBe(2);
    expect(await room.refused(add(-1), 'voice')).toBe('desk-only');
    await room.do(add(-1));
    expect(total()).toBe(1);
    expect(await room.refused(add(0))).toBe('unknown-name');
    expect(await room.refused(add(1, 'doses'))).toBe('unknown-name');
    expect(total()).toBe(1);
  });
});
