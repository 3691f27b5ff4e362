/** Invented cases for the look back: of two operations in two theatres, with one change that is really there. */
import { ok } from '../domain';
import type { CaseId, Entry, Fault, Result } from '../domain';
import type { RecordStore } from '../record';
import { describeBuiltIn, makeDemoCases } from '../session';
import type { ReviewShelf } from './review-shelf';
import type { WorkRun } from './review-work';

const FIRST_AT = Date.UTC(2026, 0, 5, 7, 30);
/** What is done most, and what changes in it: from here on one phase takes 15 % longer. */
const OFTEN = { procedure: 'reverse-shoulder-glenoid', seed: 7, theatre: 'Theatre 1' };
const SHIFT = { phase: 'reaming', factor: 1.15, from: 0.7 };
/** The whole operation, of which every named time is marked and where another way can be gone: one case in four. */
const SELDOM = { procedure: 'reverse-shoulder', seed: 8, theatre: 'Theatre 2', every: 4 };

/** So many cases, the two operations among each other. They are played when they are asked for. */
export function playDemoMix(count: number): Result<Iterable<readonly Entry[]>, Fault> {
  const seldom = Math.floor(count / SELDOM.every);
  const often = count - seldom;
  const shift = { ...SHIFT, fromCase: Math.floor(often * SHIFT.from) };
  const oftenMade = makeCases(OFTEN, often, { shift });
  const seldomMade = makeCases(SELDOM, seldom, {});
  if (!oftenMade.ok) return oftenMade;
  if (!seldomMade.ok) return seldomMade;
  return ok(mix(oftenMade.value, seldomMade.value, SELDOM.every));
}

function makeCases(
  { procedure, seed, theatre }: typeof OFTEN,
  count: number,
  change: Pick<Parameters<typeof makeDemoCases>[0], 'shift'>,
): Result<Iterable<readonly Entry[]>, Fault> {
  const card = describeBuiltIn(procedure);
  if (!card.ok) return card;
  return makeDemoCases({ procedure: card.value.data, seed, theatre, firstAt: FIRST_AT, count, ...change }); // prettier-ignore
}

function* mix<T>(often: Iterable<T>, seldom: Iterable<T>, every: number): Generator<T> {
  const others = seldom[Symbol.iterator]();
  let place = 0;
  for (const one of often) {
    yield one;
    place += 1;
    const other = place % (every - 1) === 0 ? others.next() : null;
    if (other && other.done !== true) yield other.value;
  }
}

/** Puts cases into the record until all are there or the run is over; those that are there already stay as they are. */
export async function addCases(
  store: RecordStore,
  cases: Iterable<readonly Entry[]>,
  total: number,
  run: WorkRun,
  { shelf, onCase }: { readonly shelf: ReviewShelf; readonly onCase: (done: number) => void },
): Promise<Fault | null> {
  let done = 0;
  for (const entries of cases) {
    const caseId = entries[0]?.caseId;
    const unsaved =
      caseId && !shelf.table.has(caseId) ? await append(store, caseId, entries) : null;
    if (unsaved || run.isOver) return unsaved;
    done += 1;
    run.reach(done, total);
    onCase(done);
  }
  return null;
}

async function append(
  store: RecordStore,
  caseId: CaseId,
  entries: readonly Entry[],
): Promise<Fault | null> {
  const saved = await store.append(caseId, entries);
  return saved.ok || saved.error.code === 'record-conflict' ? null : saved.error;
}
