/** Invented cases for the look back: of two operations in two theatres, with one change that is really there. */
import { ok } from '../../domain';
import type { CaseId, Entry, Fault, Result } from '../../domain';
import type { RecordStore } from '../../record';
import type { CaseDigest } from '../../review';
import { describeBuiltIn, makeDemoCases } from '../../session';
import type { CaseReader } from '../keeping/case-reader';
import type { ReviewShelf } from './review-shelf';
import type { WorkRun } from './review-work';

const FIRST_AT = Date.UTC(2026, 0, 5, 7, 30);
/** What is done most, and what changes in it: from here on one phase takes 15 % longer. */
const OFTEN = { procedure: 'reverse-shoulder-glenoid', seed: 7, theatre: 'Theatre 1' };
const SHIFT = { phase: 'reaming', factor: 1.15, from: 0.7 };
/** The whole operation, of which every named time is marked and where another way can be gone: one case in four. */
const SELDOM = { procedure: 'reverse-shoulder', seed: 8, theatre: 'Theatre 2', every: 4 };

/** Cases on their way into the record; what was stopped goes on where it was. */
export interface DemoMix {
  readonly cases: Iterator<readonly Entry[]>;
  readonly total: number;
  done: number;
}

/** So many cases, the two operations among each other. They are played when they are asked for. */
export function playDemoMix(total: number): Result<DemoMix, Fault> {
  const seldom = Math.floor(total / SELDOM.every);
  const often = total - seldom;
  const shift = { ...SHIFT, fromCase: Math.floor(often * SHIFT.from) };
  const oftenMade = makeCases(OFTEN, often, { shift });
  const seldomMade = makeCases(SELDOM, seldom, {});
  if (!oftenMade.ok) return oftenMade;
  if (!seldomMade.ok) return seldomMade;
  return ok({ cases: mix(oftenMade.value, seldomMade.value, SELDOM.every), total, done: 0 });
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

export interface AddingParts {
  readonly shelf: ReviewShelf;
  readonly reader: CaseReader;
  readonly onCase: (done: number) => void;
}

/**
 * Puts cases into the record and at once into the look back, until all are there or the run is
 * over; those that are there already stay as they are. Faults: the record's, and `review-cache-lost`.
 */
export async function addCases(
  store: RecordStore,
  rest: DemoMix,
  run: WorkRun,
  { shelf, reader, onCase }: AddingParts,
): Promise<Fault | null> {
  const fresh: CaseDigest[] = [];
  let unsaved: Fault | null = null;
  while (!run.isOver && !unsaved) {
    const next = rest.cases.next();
    if (next.done === true) break;
    const caseId = next.value[0]?.caseId;
    if (caseId && !shelf.table.has(caseId)) {
      unsaved = await append(store, caseId, next.value);
      const digest = unsaved ? null : await reader.read(store, caseId);
      if (digest) {
        shelf.add(digest);
        fresh.push(digest);
      }
    }
    if (unsaved) break;
    rest.done += 1;
    run.reach(rest.done, rest.total);
    onCase(rest.done);
  }
  const unkept = await shelf.keep(fresh);
  return unsaved ?? unkept;
}

async function append(
  store: RecordStore,
  caseId: CaseId,
  entries: readonly Entry[],
): Promise<Fault | null> {
  const saved = await store.append(caseId, entries);
  return saved.ok || saved.error.code === 'record-conflict' ? null : saved.error;
}
