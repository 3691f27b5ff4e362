/** Case numbers of the learning curve: how many such cases a team had done by then. */
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { ReviewDesk } from '../../src/app/review/review-desk';
import { createLock, createSettings } from '../../src/record';
import { digestsToJson } from '../../src/review';
import type { CaseFilter } from '../../src/review';
import { digestOf } from '../review/synthetic-team';
import { HandClock } from '../support/hand-clock';

const DAY_MS = 86_400_000;
const ALL: CaseFilter = { mode: 'demo', procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null }; // prettier-ignore

test('[REV83] a filter shows a part of the cases and leaves their numbers; procedure and role count anew', async () => {
  const desk = new ReviewDesk(
    () => undefined,
    createLock(createSettings(indexedDB), new HandClock()),
  );
  // Sides alternate, the third and the sixth case are surgeon B's, the last one is another procedure.
  const cases = [1, 2, 3, 4, 5, 6, 7].map((place) => ({
    ...digestOf([{ id: 'only', passesMin: [60] }], place),
    openedAt: place * DAY_MS,
    side: place % 2 === 0 ? ('left' as const) : ('right' as const),
    roles: [place % 3 === 0 ? 'surgeon B' : 'surgeon A'],
    procedureId: (place === 7 ? 'other' : 'usual') as never,
  }));
  expect((await desk.bring(digestsToJson(cases))).ok).toBe(true);
  const numbersOf = (change: Partial<CaseFilter>) => {
    const answer = desk.look({
      filter: { ...ALL, ...change },
      timesOf: null,
      key: null,
      hours: { fromMin: 480, hours: 8 },
    });
    return answer.change.learning.points.map(({ number }) => number);
  };
  // Of the six of one procedure; the seventh is another operation, and its own first.
  expect(numbersOf({})).toEqual([1, 2, 3, 4, 5, 6]);
  expect(numbersOf({ side: 'left' })).toEqual([2, 4, 6]);
  expect(numbersOf({ from: 4 * DAY_MS, to: 6 * DAY_MS })).toEqual([4, 5]);
  expect(numbersOf({ role: 'surgeon A' })).toEqual([1, 2, 3, 4]);
  expect(numbersOf({ role: 'surgeon A', side: 'left' })).toEqual([2, 3]);
  expect(numbersOf({ procedureId: 'other' })).toEqual([1]);
});
