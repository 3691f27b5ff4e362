import { expect, it } from 'vitest';
import { openSampleCase } from '../support/sample-case';

it('[VOI107] takes no notice of talk', async () => {
  const { session } = await openSampleCase();
  const heard = { words: null, score: 0, listener: 'both', speechMs: 2_000, decisionMs: 600 };
  await session.hear(heard);
  const [before, last] = [session.entries.length, session.view.lastOrder];
  expect(last?.outcome).toBe('not-understood');
  expect(await session.hear({ ...heard, isTalk: true })).toEqual({ refusal: null });
  expect([session.entries.length, session.view.lastOrder]).toEqual([before, last]);
});
