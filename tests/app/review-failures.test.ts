/** What goes wrong beside the screen of the look back: nobody waits in vain, nothing is left out without a word. */
import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { createManyCases } from '../../src/app/review/many-cases';
import { answerRequest } from '../../src/app/review/review-answers';
import type { ReviewReply, ReviewRequest } from '../../src/app/review/review-messages';
import { ReviewDesk } from '../../src/app/review/review-desk';
import type { CaseId, Fault } from '../../src/domain';
import { createIdbStore, createLock, createSettings } from '../../src/record';
import type { ManyState } from '../../src/ui';
import { settle } from '../record/idb-tampering';
import { HandClock } from '../support/hand-clock';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';

const FILTER = { mode: 'demo' as const, procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null }; // prettier-ignore
const QUESTION = { filter: FILTER, timesOf: null, key: null, hours: { fromMin: 480, hours: 8 } };
const MARK = { mode: 'demo' as const, procedureId: null, key: null, at: 1, label: 'new tray' };

/** A worker's outside, whose other side is moved by hand. */
class HandWorker extends EventTarget {
  readonly asked: ReviewRequest[] = [];
  isEnded = false;
  postMessage(request: ReviewRequest): void {
    this.asked.push(request);
  }
  terminate(): void {
    this.isEnded = true;
  }
  crash(message: string): void {
    this.dispatchEvent(Object.assign(new Event('error'), { message }));
  }
}

test('[REV93] a question whose answer fails is answered with the fault, one that needs no answer tells it', async () => {
  const fails = () => {
    throw new Error('out of memory');
  };
  const told: Fault[] = [];
  const desk = {
    load: () => Promise.reject(new Error('no database')),
    cancel: fails,
    resume: fails,
    look: fails,
    lookBeside: fails,
    file: fails,
    bring: fails,
    mark: fails,
    unmark: fails,
    addDemo: fails,
    keepHours: fails,
    forgetAside: fails,
    report: (problem: Fault) => void told.push(problem),
  };
  const requests: readonly ReviewRequest[] = [
    { kind: 'look', id: 1, question: QUESTION },
    { kind: 'file', id: 2, filter: FILTER, file: 'json' },
    { kind: 'bring', id: 3, text: '' },
    { kind: 'mark', id: 4, mark: MARK },
    { kind: 'demo', id: 5, count: 1 },
    { kind: 'look-beside', id: 6, question: QUESTION },
    { kind: 'load', key: null },
  ];
  const replies: ReviewReply[] = [];
  for (const request of requests)
    await answerRequest(request, desk, () => undefined, (it) => void replies.push(it)); // prettier-ignore
  expect(replies).toEqual(
    [1, 2, 3, 4, 5, 6].map((id) => ({
      kind: 'done',
      id,
      fault: { code: 'review-failed', params: { detail: 'Error: out of memory' } },
    })),
  );
  expect(told).toMatchObject([{ code: 'review-failed', params: { detail: 'Error: no database' } }]);
});

test('[REV93] a worker that fails answers all who wait, is ended, and the next visit starts another', async () => {
  const workers: HandWorker[] = [];
  const start = () => {
    const worker = new HandWorker();
    workers.push(worker);
    return worker as unknown as Worker;
  };
  const unlocked = Promise.resolve(false);
  const service = createManyCases(start, () => unlocked);
  const states: ManyState[] = [];
  const leave = service.watch((state) => void states.push(state));
  const looked = service.look(QUESTION);
  const brought = service.bring('{}');
  const saved = service.save(FILTER, 'json');
  await expect.poll(() => workers[0]?.asked.length).toBe(4);
  workers[0]?.crash('out of memory');
  const failed = { code: 'review-failed', params: { detail: 'out of memory' } };
  expect(await looked).toEqual({ ok: false, error: failed });
  expect(await brought).toEqual({ ok: false, error: failed });
  expect(await saved).toEqual(failed);
  expect(states.at(-1)).toMatchObject({ progress: null, fault: failed });
  expect(workers[0]?.isEnded).toBe(true);
  // A fresh one knows no case: it is not asked before it was told to load.
  expect(await service.mark(MARK)).toEqual(failed);
  expect(workers).toHaveLength(1);
  leave();
  service.watch(() => undefined);
  await expect.poll(() => workers[1]?.asked).toEqual([{ kind: 'load', key: null }]);
});

test('[REV93] closed cases that can’t be read are counted and told, the others are there', async () => {
  const lock = createLock(createSettings(indexedDB), new HandClock());
  const store = createIdbStore({ indexedDB, ring: lock });
  const sample = await openSampleCase();
  await sample.say(...WHOLE_CASE);
  await sample.session.submit({ type: 'case.close', outcome: 'finished' }, 'desk');
  const entriesOf = (caseId: CaseId) => sample.session.entries.map((it) => ({ ...it, caseId }));
  for (const caseId of ['whole', 'damaged', 'no-outline'] as CaseId[]) {
    const [opening, ...rest] = entriesOf(caseId);
    if (opening?.type !== 'case.opened') throw new Error('the sample case does not open');
    const data = { ...opening.data, procedure: { not: 'a procedure' } };
    const entries = caseId === 'no-outline' ? [{ ...opening, data }, ...rest] : [opening, ...rest];
    expect((await store.append(caseId, entries as never)).ok).toBe(true);
  }
  const database = await settle(indexedDB.open('cuewall-record'));
  const kept = database.transaction('entries', 'readwrite').objectStore('entries');
  const key = (await settle(kept.getAllKeys())).find((it) =>
    JSON.stringify(it).includes('damaged'),
  );
  if (key === undefined) throw new Error('the case to be damaged is not there');
  await settle(kept.delete(key));
  database.close();

  const states: ManyState[] = [];
  const desk = new ReviewDesk((state) => void states.push(state), lock);
  await desk.load();
  expect(states.at(-1)).toMatchObject({
    caseCount: 1,
    unreadCount: 2,
    fault: { code: 'review-cases-unread', params: { count: '2' } },
  });
  // Looked at anew they are counted anew.
  await desk.load();
  expect(states.at(-1)?.unreadCount).toBe(2);
});
