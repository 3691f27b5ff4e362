/** The actor of a rehearsal, with a listener that is told what to mishear. */
import { describe, expect, it } from 'vitest';
import { ok } from '../../src/domain';
import { REVERSE_SHOULDER_REHEARSAL, runRehearsal } from '../../src/session';
import { heardPhrase, openSampleCase } from '../support/sample-case';

/** Plays the rehearsal to a case; `mishear` maps words to what is heard the first time. */
async function play(mishear: Readonly<Record<string, string | null>> = {}) {
  const { session } = await openSampleCase();
  const misheard = new Set<string>();
  const report = await runRehearsal(session, REVERSE_SHOULDER_REHEARSAL, {
    speak: async ({ words, isTalk }) => {
      const isWrong = words in mishear && !misheard.has(words);
      misheard.add(words);
      await session.hear(heardPhrase(isTalk ? null : isWrong ? (mishear[words] ?? null) : words));
      return ok(undefined);
    },
    silence: () => Promise.resolve(),
    pause: () => Promise.resolve(),
  });
  return { session, report };
}

const depthOf = (view: {
  sizes: readonly { label: string; parts: readonly { text: string }[] }[];
}) => view.sizes.find(({ label }) => label === 'Depth')?.parts[0]?.text;

describe('a rehearsal', () => {
  it('[SES16] says every line once where all is heard, and ends with the case complete', async () => {
    const { session, report } = await play();
    expect(report).toMatchObject({ repeated: [], falseActivations: [], stoppedAt: null });
    expect(session.view.status).toBe('complete');
    expect(depthOf(session.view)).toBe('24');
  });

  it('[SES16] takes back a size that was misheard and says it again', async () => {
    const { session, report } = await play({ 'depth two four': 'depth three two' });
    expect(report.repeated).toEqual([{ words: 'depth two four', heard: 'depth three two' }]);
    expect(depthOf(session.view)).toBe('24');
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
});
