import { expect, it } from 'vitest';
import { heardPhrase, openSampleCase } from '../support/sample-case';

it('[VOI107] takes no notice of talk', async () => {
  const { session, say } = await openSampleCase();
  await say(null);
  const [before, last] = [session.entries.length, session.view.lastOrder];
  expect(last?.outcome).toBe('not-understood');
  expect(await session.hear({ ...heardPhrase(null), isTalk: true })).toEqual({ refusal: null });
  expect([session.entries.length, session.view.lastOrder]).toEqual([before, last]);
});
