/** Whose voice cards a case was set up with, from its record. */
import { describe, expect, it } from 'vitest';
import { CaseLog } from '../../src/session';
import { openSampleCase, SAMPLE_SETTINGS } from '../support/sample-case';

describe('a case with voice cards', () => {
  it('[CARD9] says which voice cards it was set up with, also once it is taken up again', async () => {
    const voiceCards = [
      { role: 'surgeon', card: 'card-5d0c2b7e', label: 'surgeon A', version: 2, language: 'en-GB' },
    ];
    const { session } = await openSampleCase({ voiceCards });
    expect(session.view.voiceCards).toEqual(voiceCards);
    const later = CaseLog.rebuild(session.entries, SAMPLE_SETTINGS);
    expect(later.ok && later.value.setup?.voiceCards).toEqual(voiceCards);
    expect((await openSampleCase()).session.view.voiceCards).toEqual([]);
  });
});
