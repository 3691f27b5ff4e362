/** The look back over many cases while the record is locked. */
import { expect, test } from 'vitest';
import { createManyCases } from '../../src/app/review/many-cases';
import type { ManyState } from '../../src/ui';

const FILTER = { mode: 'real' as const, procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null }; // prettier-ignore
const QUESTION = { filter: FILTER, timesOf: null, key: null, hours: { fromMin: 480, hours: 8 } };

test('[LOC8] while locked nothing of many cases is read, shown or saved', async () => {
  let started = 0;
  const service = createManyCases(
    () => {
      started += 1;
      throw new Error('the worker is not to be started');
    },
    () => Promise.resolve(true),
  );
  const state = await new Promise<ManyState>((resolve) => service.watch(resolve));
  expect([state.fault?.code, state.caseCount]).toEqual(['record-locked', 0]);
  expect(await service.look(QUESTION)).toMatchObject({ error: { code: 'record-locked' } });
  expect(await service.lookBeside(QUESTION)).toMatchObject({ error: { code: 'record-locked' } });
  expect(await service.save(FILTER, 'cases-csv')).toMatchObject({ code: 'record-locked' });
  expect(started).toBe(0);
});
