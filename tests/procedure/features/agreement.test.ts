/** What must agree between sizes, and what follows from one, on the whole flagship. */
import { describe, expect, it } from 'vitest';
import { Room } from './room';

const offer = (capture: string, value: unknown) =>
  ({ type: 'capture.offer', capture, value }) as const;
const confirm = { type: 'capture.confirm' } as const;

describe('what must agree', () => {
  it('[PRO80] a value that must not stand beside another is refused, and its words change nothing', async () => {
    const room = await Room.at('take-liner');
    expect(room.value('sphere')).toBe(40);
    expect(await room.refused(offer('final-liner', 44))).toBe('constraint-broken');
    expect(await room.refused(offer('final-liner', 36), 'voice')).toBe('constraint-broken');
    expect(room.view.readBack).toBeNull();
    await room.give('final-liner', 40);
    expect(room.value('final-liner')).toBe(40);
  });

  it('[PRO80] one that is doubtful is asked a second time, with the reason; one that agrees is not', async () => {
    const room = await Room.at('remove-trial');
    const broach = Number(room.value('broach'));
    await room.do(offer('final-stem', broach - 2));
    expect(room.view.readBack?.warnings).toEqual(['Stem differs from the last broach']);
    expect(await room.do(confirm)).toEqual(['capture.questioned']);
    expect([room.value('final-stem'), room.view.readBack?.isQuestioned]).toEqual([undefined, true]);
    expect(await room.do(confirm)).toContain('capture.confirmed');
    expect(room.value('final-stem')).toBe(broach - 2);
    const other = await Room.at('remove-trial');
    expect(await other.give('final-stem', broach)).not.toContain('capture.questioned');
  });

  it('[PRO80] a correction after the question is asked anew, and taking it back leaves nothing', async () => {
    const room = await Room.at('remove-trial');
    const broach = Number(room.value('broach'));
    await room.do(offer('final-stem', broach - 2));
    await room.do(confirm);
    await room.do(offer('final-stem', broach - 4));
    expect(room.view.readBack?.isQuestioned).toBe(false);
    expect(await room.do(confirm)).toEqual(['capture.questioned']);
    await room.do({ type: 'capture.withdraw' });
    expect([room.value('final-stem'), room.view.readBack]).toEqual([undefined, null]);
    expect(room.at('table')).toBe('take-stem');
  });

  it('[PRO80] a glenosphere that is large for the small plate is asked twice; the large plate takes it at once', async () => {
    const small = await Room.at('choose-plate');
    await small.give('plate', 'small');
    await small.walk('choose-sphere');
    expect(await small.give('sphere', 44)).toContain('capture.questioned');
    const large = await Room.at('choose-plate');
    await large.give('plate', 'large');
    await large.walk('choose-sphere');
    expect(await large.give('sphere', 44)).not.toContain('capture.questioned');
  });

  it('[PRO80] the post takes the length of the depth and no other, and says which', async () => {
    const room = await Room.at('choose-post');
    expect(await room.refused(offer('post', 24))).toBe('capture-not-wanted');
    await room.walk('measure-depth');
    await room.give('depth', 20);
    expect(await room.refused(offer('post', 24))).toBe('hold-point-closed');
    expect(room.view.heldAttempt?.conditions.map(({ text }) => text)).toEqual(['Post differs from depth 20 mm']); // prettier-ignore
    await room.give('post', 20);
    expect(room.at('table')).toBe('press-post');
  });
});

describe('a number that is none', () => {
  it.each([NaN, Infinity])(
    '[PRO92] %s is refused, recorded, and stops no saving',
    async (value) => {
      const room = await Room.at('measure-depth');
      expect(await room.refused(offer('depth', value))).toBe('value-not-offered');
      const count = { type: 'count.add', item: 'swabs', by: value } as const;
      expect(await room.refused(count)).toBe('count-needs-baseline');
      expect(room.entries.at(-1)?.data).toMatchObject({ order: { by: String(value) } });
      await room.give('depth', 24);
      expect([room.view.unsavedCount, room.view.storageFault]).toEqual([0, null]);
    },
  );
});

describe('what follows from a size', () => {
  const drill = (room: Room) => {
    const parts = room.view.sizes.flatMap((row) => row.parts);
    const field = room.view.tracks[0];
    return [parts.find(({ capture }) => capture === 'depth')?.text, field?.cues[0]?.text];
  };

  it('[PRO81] the drill has the length of the depth (common practice: one number), and follows its correction', async () => {
    const room = await Room.at('measure-depth');
    await room.give('depth', 20);
    expect(room.at('field')).toBe('drill-post');
    expect(drill(room)).toEqual(['20', 'Post drill 20 mm']);
    await room.do({ type: 'capture.change', capture: 'depth' });
    await room.do(offer('depth', 32));
    expect(drill(room)[1]).toBe('Post drill 20 mm');
    await room.do(confirm);
    expect(room.at('field')).toBe('drill-post');
    expect(drill(room)).toEqual(['32', 'Post drill 32 mm']);
  });
});
