/**
 * Late cues: what the back table was to have ready when the field came to need it. That a
 * back table works ahead of the wound is common practice; the times are moved by hand here.
 */
import { describe, expect, it } from 'vitest';
import { asId } from '../../src/domain';
import type { Order } from '../../src/domain';
import { caseTimesToCsv, makeTimeline } from '../../src/review';
import { findLateCues } from '../../src/session';
import { openSampleCase } from '../support/sample-case';

/** Up to the step before the reaming, with the direction the last thing that the field owes. */
const BEFORE_REAMING = [
  '+240', 'step done', '+120', 'step done', '+60', 'pin placed', '+3', 'confirm',
  '+40', 'wedge one six', '+3', 'confirm',
]; // prettier-ignore
const DIRECTION = ['+10', 'direction ten thirty', '+3', 'confirm'];
const READY = ['reamer ready', '+4', 'confirm'];

async function atReaming() {
  const sample = await openSampleCase();
  const { session, clock } = sample;
  const now = () => ({ at: clock.wallMs(), mono: clock.monoMs(), run: asId<never>('run-1') });
  const give = async (order: Order) => (await session.submit(order, 'desk')).refusal;
  await sample.say(...BEFORE_REAMING);
  return { ...sample, give, now, find: () => findLateCues(session.entries, now()) };
}

describe('late cues', () => {
  it('[REV72] count from when the field lacks nothing else until the table has it', async () => {
    const { say, find, session, now } = await atReaming();
    await say(...DIRECTION);
    expect(session.view.tracks[0]).toMatchObject({ state: 'waiting', current: { step: 'align-reamer' } }); // prettier-ignore
    await say('+90', ...READY);
    expect(session.view.tracks[0]?.state).toBe('doing');
    const [late, ...more] = find();
    expect(more).toEqual([]);
    // 90 seconds, and 4 for the read-back.
    expect(late).toMatchObject({ track: 'field', holdPoint: 'reaming', ms: 94_000, end: 'ready' });
    expect(late?.cues).toEqual(['Build reamer 16°']);
    const { outline } = session.view;
    const marks = makeTimeline(session.entries, outline, now(), 0, find()).marks;
    const opened = session.entries[0]?.at ?? 0;
    expect(marks.filter(({ kind }) => kind === 'late')).toMatchObject([
      { text: 'Build reamer 16°', atMs: (late?.from.at ?? 0) - opened },
    ]);
    const csv = caseTimesToCsv(session.entries, outline, now(), find());
    const line = csv.split('\r\n').find((row) => row.includes('late cue'));
    expect(line?.split(',')).toContain('94');
  });

  it('[REV72] are none where the table was ready before the field, or only just after', async () => {
    const ahead = await atReaming();
    await ahead.say('+90', ...READY, ...DIRECTION);
    expect(ahead.session.view.tracks[0]?.state).toBe('doing');
    expect(ahead.find()).toEqual([]);
    const justAfter = await atReaming();
    await justAfter.say(...DIRECTION, '+5', ...READY);
    expect(justAfter.find()).toEqual([]);
  });

  it('[REV72] leave a held clock out', async () => {
    const { say, give, find } = await atReaming();
    await say(...DIRECTION, '+30');
    await give({ type: 'clock.hold', reason: 'Imaging' });
    await say('+600');
    await give({ type: 'clock.resume' });
    await say('+20', ...READY);
    expect(find()).toMatchObject([{ ms: 54_000, end: 'ready' }]);
  });

  it('[REV72] say where it was passed by override, and where it is awaited still', async () => {
    const { say, give, find } = await atReaming();
    await say(...DIRECTION, '+60');
    expect(find()).toMatchObject([{ ms: 60_000, end: 'waiting' }]);
    await give({ type: 'override.request', holdPoint: asId('reaming'), reason: 'Shown by hand' });
    await say('+10');
    await give({ type: 'override.confirm' });
    await say('+300');
    expect(find()).toMatchObject([{ ms: 70_000, end: 'overridden' }]);
  });
});
