/**
 * Which earlier cases the forecast of a running case learns from, and what it then says:
 * cases as they lie in a store, a running case as the session runs it, clocks by hand.
 */
import { describe, expect, test } from 'vitest';
import { readHistory } from '../../src/app/keeping/history';
import { asId } from '../../src/domain';
import type { CaseId, CaseSetup, Entry, ProcedureId } from '../../src/domain';
import { createMemoryStore } from '../../src/record';
import type { RecordStore } from '../../src/record';
import { describeBuiltIn, makeDemoCases } from '../../src/session';
import type { CaseView } from '../../src/session';
import { EndWatch } from '../../src/ui/end-watch';
import type { AppServices } from '../../src/ui/services';
import { HandCase, OUTLINE } from '../review/hand-case';
import { openSampleCase } from '../support/sample-case';

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;

/** A case of one short phase, opened on a given day, under its own id and set-up. */
function caseOn(day: number, id: string, setup: Partial<CaseSetup> = {}, isClosed = true) {
  const hand = new HandCase(Date.UTC(2026, 0, 1) + day * DAY).begin('cut').pass(6).finish('cut');
  if (isClosed) hand.close();
  return hand.entries.map((entry): Entry => {
    const own = { ...entry, caseId: asId<CaseId>(id) };
    return own.type === 'case.opened' ? { ...own, data: { ...own.data, ...setup } } : own;
  });
}

async function keep(store: RecordStore, entries: readonly Entry[]): Promise<void> {
  const [first] = entries;
  if (!first) throw new Error('A case has an opening');
  const saved = await store.append(first.caseId, entries);
  expect(saved.ok).toBe(true);
}

describe('the history of a running case', () => {
  test('[REV79] is of the latest sixty closed cases of the same procedure and mode, without its own', async () => {
    const store = createMemoryStore();
    for (let day = 0; day < 63; day += 1) await keep(store, caseOn(day, `same-${day}`));
    await keep(store, caseOn(80, 'other-procedure', { procedureId: asId('another') }));
    await keep(store, caseOn(81, 'other-mode', { mode: 'real' }));
    await keep(store, caseOn(82, 'still-open', {}, false));
    await keep(store, caseOn(83, 'own'));
    const view = { caseId: asId<CaseId>('own'), mode: 'demo', outline: OUTLINE } as CaseView;
    const read = await readHistory(store, { view });
    if (!read.ok) throw new Error(read.error.code);
    const ids = Array.from({ length: 60 }, (_, index) => `same-${62 - index}`);
    expect(read.value.map(({ caseId }) => caseId)).toEqual(ids);
    // A case that is not in this record is told by its procedure.
    const elsewhere = { ...view, caseId: asId<CaseId>('elsewhere') };
    const named = await readHistory(store, { view: elsewhere, procedureId: asId<ProcedureId>('another') }); // prettier-ignore
    expect(named.ok && named.value.map(({ caseId }) => caseId)).toEqual(['other-procedure']);
  });
});

describe('the end that wall and desk show', () => {
  test('[REV79] rests on usual times until the earlier cases are read, then on them, and is gone once the case is closed', async () => {
    const store = createMemoryStore();
    const card = describeBuiltIn('reverse-shoulder-glenoid');
    if (!card.ok) throw new Error('The built-in procedure loads');
    const made = makeDemoCases({ procedure: card.value.data, seed: 3, count: 20, firstAt: 1.7e12 }); // prettier-ignore
    if (!made.ok) throw new Error(made.error.code);
    for (const entries of made.value) await keep(store, entries);
    const { session, say, clock } = await openSampleCase({ store });
    const now = () => ({ at: clock.wallMs(), mono: clock.monoMs(), run: asId<never>('run-1') });
    const services = {
      readHistory: (of: Parameters<AppServices['readHistory']>[0]) => readHistory(store, of),
    } as AppServices;
    const watch = new EndWatch(services);
    expect(watch.at(null, now())).toBeNull();
    const before = watch.at(session, now());
    expect(before?.basis).toMatchObject({ caseCount: 0, hasUsual: true });
    const read = await readHistory(store, { view: session.view });
    if (!read.ok) throw new Error(read.error.code);
    const totals = read.value.map(({ totalMs }) => totalMs).sort((a, b) => a - b);
    await say('+60');
    const after = watch.at(session, now());
    expect(after?.basis.caseCount).toBe(totals.length);
    expect(totals.length).toBeGreaterThan(10);
    // The middle one of twenty finished cases lies inside an interval that holds four of five.
    const middle = (session.view.openedAt?.at ?? 0) + (totals[totals.length / 2] ?? 0);
    expect(after?.lowAt).toBeLessThan(middle);
    expect(after?.highAt).toBeGreaterThan(middle);
    await session.submit({ type: 'case.close', outcome: 'abandoned', reason: 'Test' }, 'desk');
    expect(watch.at(session, now())).toBeNull();
  });
});
