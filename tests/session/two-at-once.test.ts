import { expect, it } from 'vitest';
import { openSampleCase } from '../support/sample-case';

it('[VOI70] says that two people spoke at once, and takes nothing from it', async () => {
  const { session } = await openSampleCase();
  const before = session.view;
  const { refusal } = await session.hear({
    words: null,
    hasTwoVoices: true,
    candidates: ['step done', 'confirm'],
    score: 0,
    listener: 'both',
    speechMs: 900,
    decisionMs: 200,
  });
  expect(refusal?.code).toBe('phrase-of-two');
  expect(session.view.tracks).toEqual(before.tracks);
  expect(session.view.lastOrder).toMatchObject({ outcome: 'refused' });
});
