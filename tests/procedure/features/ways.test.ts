/**
 * Ways through the whole operation other than straight on: another way taken, a step left
 * out, a step done before its turn. What must happen is written here by hand.
 */
import { describe, expect, it } from 'vitest';
import { Room } from './room';

const CHOOSE = 'alternative.choose';
const done = (track: string) => ({ type: 'step.finish', track }) as const;

/** Ends both tracks from sign-out on. */
async function walkOut(room: Room): Promise<void> {
  await room.walk('leave');
  await room.do(done('field'));
  if (room.at('table')) await room.do(done('table'));
}

/** Hold points of the straight way through the flagship whose needs must be met at its end. */
const OF_THE_WHOLE_WAY = [
  'head-cut', 'reamer-build', 'reaming', 'post-drill', 'post-choice', 'press', 'baseplate', 'sphere-load',
  'glenosphere', 'stem-choice', 'liner-choice', 'stem', 'liner', 'reduction', 'deep-closure', 'sign-out',
  'transfer', 'clearing',
]; // prettier-ignore

describe('another way', () => {
  it('[PRO70] a graft joins before the pin and leaves nothing required behind', async () => {
    const room = await Room.at('clear-cartilage');
    const table = room.at('table');
    await room.do({ type: CHOOSE, alternative: 'graft-first' }, 'voice');
    expect(room.at('table')).toBe(table);
    expect(room.at('field')).toBe('prepare-bed');
    expect(room.passed('clear-cartilage')).toBe('bypassed');
    await room.walk('fix-graft');
    await room.give('graft-fixed', 'reported');
    expect(room.at('field')).toBe('place-pin');
    await walkOut(room);
    expect(room.view.status).toBe('complete');
    expect(OF_THE_WHOLE_WAY.flatMap((id) => room.missing(id))).toEqual([]);
    const left = Object.entries(room.context.passed).filter(([, how]) => how !== 'finished');
    expect(left).toEqual([['clear-cartilage', 'bypassed']]);
  });

  it('[PRO71] a head only passes over the socket, sends the table to its end and asks for its own sizes', async () => {
    const room = await Room.at('drill-post');
    expect(room.at('table')).toBe('choose-post');
    const facts = await room.do({ type: CHOOSE, alternative: 'head-only' }, 'voice');
    expect(facts).toEqual(['alternative.chosen', 'track.moved', 'track.moved', 'step.begun']);
    expect([room.at('field'), room.at('table'), room.stateOf('table')]).toEqual(['clear-socket', 'clear-table', 'held']); // prettier-ignore
    await room.give('socket-clear', 'reported');
    await room.give('reserve-stem', 12);
    expect(room.at('field')).toBe('size-reserve');
    await room.give('reserve-head', 44);
    await room.walk('reduce-reserve');
    await room.do(done('field'));
    expect(room.at('field')).toBe('wash');
    const notDone = ['drill-post', 'insert-baseplate', 'screw-1-drill', 'place-sphere', 'insert-stem', 'reduce-joint']; // prettier-ignore
    expect(notDone.map((step) => room.passed(step))).toEqual(notDone.map(() => 'bypassed'));
    expect(['choose-post', 'take-liner'].map((step) => room.passed(step))).toEqual(['bypassed', 'bypassed']); // prettier-ignore
    await walkOut(room);
    expect(room.view.status).toBe('complete');
    expect(room.value('post')).toBeUndefined();
  });

  it('[PRO71] another plate at the wrist joins at the release of the cuff, the table before its closing count', async () => {
    const room = await Room.at('reduce', 'wrist-plate');
    await room.do({ type: CHOOSE, alternative: 'bridge' });
    expect([room.at('field'), room.at('table')]).toEqual(['size-bridge', 'count-closing']);
    await room.walk('look-bridge');
    await room.do(done('field'));
    expect(room.at('field')).toBe('release-cuff');
  });

  it('[PRO72] packing and leaving ends its track; the table clears up without the last count, and the case can be closed', async () => {
    const room = await Room.at('ream');
    await room.do({ type: CHOOSE, alternative: 'pack-and-leave' });
    expect([room.at('field'), room.at('table')]).toEqual(['pack-wound', 'clear-table']);
    expect(room.stateOf('table')).toBe('doing');
    await room.give('packs-left', 4);
    await room.do(done('field'));
    await room.do(done('field'));
    expect(room.stateOf('field')).toBe('done');
    expect(room.view.status).toBe('running');
    await room.do(done('table'));
    expect(room.view.status).toBe('complete');
    await room.do({ type: 'case.close', outcome: 'finished' });
    expect([room.view.status, room.view.outcome]).toEqual(['closed', 'finished']);
  });

  it('[PRO72] stopping early goes on at the wash, with samples and a reason, and no size is asked for', async () => {
    const room = await Room.at('dislocate');
    await room.do({ type: CHOOSE, alternative: 'stop-early' });
    expect([room.at('field'), room.at('table')]).toEqual(['take-samples', 'clear-table']);
    await room.give('samples', 5);
    await room.give('stop-reason', 'Cloudy fluid');
    expect(room.at('field')).toBe('wash');
    await walkOut(room);
    expect(room.view.status).toBe('complete');
    expect([room.value('wedge'), room.value('sphere')]).toEqual([undefined, undefined]);
  });

  it('[PRO72] stopping at the wrist without another phase goes straight on at the release of the cuff', async () => {
    const room = await Room.at('expose', 'wrist-plate');
    await room.do({ type: CHOOSE, alternative: 'stop-here' });
    expect([room.at('field'), room.at('table')]).toEqual(['release-cuff', 'count-closing']);
    expect(['expose', 'reduce', 'place-plate', 'last-image'].map((step) => room.passed(step))).toEqual(Array(4).fill('bypassed')); // prettier-ignore
    await room.walk('patient-out');
    await room.do(done('field'));
    expect(room.at('table')).toBe('count-last');
    await room.do(done('table'));
    expect(room.view.status).toBe('complete');
  });

  it('[PRO73] a way is offered from its first step to its last, and refused before and after', async () => {
    const room = await Room.at('expose');
    const offers = () => room.view.alternatives.map(({ alternative }) => alternative).sort();
    const graft = { type: CHOOSE, alternative: 'graft-first' } as const;
    expect(offers()).toEqual(['pack-and-leave']);
    expect(await room.refused(graft)).toBe('alternative-not-open');
    expect(room.words).not.toContain('graft the bone');
    await room.walk('clear-cartilage');
    expect(offers()).toEqual(['graft-first', 'pack-and-leave']);
    expect(room.words).toContain('graft the bone');
    await room.walk('place-pin');
    expect(offers()).toEqual(['head-only', 'pack-and-leave']);
    expect(await room.refused(graft)).toBe('alternative-not-open');
    await room.walk('pull-pin');
    expect(offers()).toEqual(['head-only', 'pack-and-leave']);
    await room.walk('insert-baseplate');
    expect(offers()).toEqual(['pack-and-leave']);
    expect(await room.refused({ type: CHOOSE, alternative: 'head-only' })).toBe(
      'alternative-not-open',
    );
    await room.walk('wash');
    expect(offers()).toEqual([]);
  });

  it('[PRO73] going back over the choice takes it back, on both tracks', async () => {
    const room = await Room.at('drill-post');
    await room.do({ type: CHOOSE, alternative: 'head-only' });
    await room.do({ type: 'step.goBack', track: 'field' });
    expect(Object.keys(room.context.chosen)).toEqual([]);
    expect([room.at('field'), room.at('table')]).toEqual(['measure-depth', 'choose-post']);
    expect(room.passed('clear-table')).toBeUndefined();
  });
});

describe('a step left out', () => {
  it('[PRO74] one that may be left out is passed over, by voice too, and says so in the record', async () => {
    const room = await Room.at('place-block');
    expect(await room.do({ type: 'step.leaveOut', step: 'place-block' }, 'voice')).toEqual(['step.leftOut', 'step.begun']); // prettier-ignore
    expect([room.at('field'), room.passed('place-block')]).toEqual(['induce', 'skipped']);
  });

  it('[PRO74] without an antibiotic the incision does not wait for one', async () => {
    const room = await Room.at('give-antibiotic');
    expect(room.missing('incision')).toContain('Antibiotic not reported');
    await room.do({ type: 'step.leaveOut', step: 'give-antibiotic' });
    expect(room.missing('incision')).not.toContain('Antibiotic not reported');
    await room.walk('time-out');
    expect(await room.refused({ type: 'step.begin', step: 'incise' })).toBe('hold-point-closed');
    await room.walk('open-interval');
    expect(room.passed('incise')).toBe('finished');
  });

  it('[PRO74] one that is not optional, or whose turn has not come, is refused', async () => {
    const room = await Room.at('induce');
    const leaveOut = (step: string) => ({ type: 'step.leaveOut', step }) as const;
    expect(await room.refused(leaveOut('induce'))).toBe('step-not-optional');
    expect(await room.refused(leaveOut('give-antibiotic'))).toBe('step-not-optional');
    expect(await room.refused(leaveOut('no-such-step'))).toBe('unknown-name');
    expect(room.words).not.toContain('no antibiotic today');
  });
});

describe('a step done before its turn', () => {
  it('[PRO75] is passed when its turn comes, without being begun', async () => {
    const room = await Room.at('clear-rim');
    await room.do({ type: 'step.reportAhead', step: 'open-canal' }, 'voice');
    expect(room.at('field')).toBe('clear-rim');
    await room.walk('broach-canal');
    const ofStep = room.entries.filter(({ data }) => 'step' in data && String(data.step) === 'open-canal'); // prettier-ignore
    expect(ofStep.map(({ type }) => type)).toEqual(['step.doneAhead', 'step.passed']);
    expect(room.passed('open-canal')).toBe('finished');
  });

  it('[PRO75] is refused a second time, in its turn, and where the file does not allow it', async () => {
    const room = await Room.at('clear-rim');
    const report = (step: string) => ({ type: 'step.reportAhead', step }) as const;
    expect(await room.refused(report('wash'))).toBe('step-not-ahead');
    await room.do(report('open-canal'));
    expect(await room.refused(report('open-canal'))).toBe('step-not-ahead');
    const other = await Room.at('open-canal');
    expect(await other.refused(report('open-canal'))).toBe('step-not-ahead');
  });
});
