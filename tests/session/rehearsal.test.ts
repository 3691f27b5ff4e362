/** The actor of a rehearsal, with a listener that is told what to mishear. */
import { describe, expect, it } from 'vitest';
import { ok } from '../../src/domain';
import { REVERSE_SHOULDER_REHEARSAL, runRehearsal } from '../../src/session';
import { heardPhrase, openSampleCase, SAMPLE_SETTINGS } from '../support/sample-case';
import { settle } from '../support/settle';

/**
 * Plays the rehearsal to a case; `mishear` maps words, or "words before, words", to what is heard the first time, and
 * `isSlow` lets a read-back lapse over what was not heard.
 */
async function play(mishear: Readonly<Record<string, string | null>> = {}, isSlow = false) {
  const { session, clock } = await openSampleCase();
  const misheard = new Set<string>();
  let before = '';
  const report = await runRehearsal(session, REVERSE_SHOULDER_REHEARSAL, {
    speak: async ({ words, isTalk }) => {
      const key = [words, `${before}, ${words}`].find(
        (one) => one in mishear && !misheard.has(one),
      );
      const isWrong = key !== undefined;
      before = words;
      if (isWrong) misheard.add(key);
      await session.hear(heardPhrase(isTalk ? null : isWrong ? (mishear[key] ?? null) : words));
      if (isWrong && isSlow) {
        clock.advance(SAMPLE_SETTINGS.lapseMs);
        // The lapse is carried out in its turn.
        await settle();
      }
      return ok(undefined);
    },
    silence: () => Promise.resolve(),
    pause: () => Promise.resolve(),
  });
  return { session, report };
}

interface Sizes {
  sizes: readonly { label: string; parts: readonly { text: string }[] }[];
}
const sizeOf = (name: string, view: Sizes) =>
  view.sizes.find(({ label }) => label === name)?.parts[0]?.text;

describe('a rehearsal', () => {
  it('[SES16] says every line once where all is heard, and ends with the case complete', async () => {
    const { session, report } = await play();
    expect(report).toMatchObject({ repeated: [], falseActivations: [], stoppedAt: null });
    expect(session.view.status).toBe('complete');
    expect(sizeOf('Depth', session.view)).toBe('24');
  });

  it('[SES16] takes back a size that was misheard and says it again', async () => {
    const { session, report } = await play({ 'depth two four': 'depth three two' });
    expect(report.repeated).toEqual([{ words: 'depth two four', heard: 'depth three two' }]);
    expect(sizeOf('Depth', session.view)).toBe('24');
    const confirmed = session.entries.filter(
      (entry) => entry.type === 'capture.confirmed' && entry.data.capture === 'depth',
    );
    expect(confirmed).toHaveLength(1);
  });

  it('[SES16] says a line again that was not heard at all', async () => {
    const { session, report } = await play({ 'pin placed': null });
    expect(report.repeated).toEqual([{ words: 'pin placed', heard: null }]);
    expect(session.view.status).toBe('complete');
  });

  it.each([
    ['wedge two four', 'correct one six'],
    ['correct one six', 'confirm'],
  ])(
    '[SES85] says a size and its correction again when they lapsed between “%s” and “%s”',
    async (before, words) => {
      const { session, report } = await play({ [`${before}, ${words}`]: null }, true);
      expect(report.repeated).toEqual([{ words, heard: null }]);
      expect(report.stoppedAt).toBeNull();
      expect(sizeOf('Wedge', session.view)).toBe('16');
      expect(session.view.status).toBe('complete');
    },
  );
});
