/** A read-back whose answer was not made out, on hand-moved clocks. */
import { describe, expect, it } from 'vitest';
import { heardPhrase, openSampleCase, SAMPLE_SETTINGS, WHOLE_CASE } from '../support/sample-case';
import { settle } from '../support/settle';

const UP_TO_DEPTH = WHOLE_CASE.slice(0, WHOLE_CASE.indexOf('insert baseplate'));

describe('an answer that was not made out', () => {
  it('[SES84] gives whoever is asked to say the answer again the time to do so, twice', async () => {
    const { session, say, clock } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'depth two four');
    const inDoubt = { ...heardPhrase(null), candidates: ['confirm', 'depth two four'] };
    for (let times = 0; times < 2; times += 1) {
      clock.advance(SAMPLE_SETTINGS.lapseMs - 1);
      await session.hear(inDoubt);
      expect(session.view.readBack?.since.mono).toBe(clock.monoMs());
    }
    clock.advance(SAMPLE_SETTINGS.lapseMs - 1);
    await session.hear(inDoubt);
    expect(session.view.readBack?.text).toBe('24');
    clock.advance(1);
    await settle();
    expect(session.entries.at(-1)?.type).toBe('capture.lapsed');
  });

  it('[SES84] lets a read-back lapse in its time whatever else is refused', async () => {
    const { session, say, clock } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'depth two four');
    clock.advance(SAMPLE_SETTINGS.lapseMs - 1);
    await session.hear(heardPhrase(null));
    await say('insert baseplate');
    expect(session.entries.at(-1)?.type).toBe('order.refused');
    clock.advance(1);
    await settle();
    expect(session.view.readBack).toBeNull();
  });
});
