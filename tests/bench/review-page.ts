/** What runs inside the page that fills the record, for bench review and the review's own browser tests: demo cases, played once, kept under many ids. */
import { asId } from '../../src/domain';
import type { CaseId, Entry, RunId } from '../../src/domain';
import { openRecord } from '../../src/record';
import { describeBuiltIn, makeDemoCases, outlineOf } from '../../src/session';

export interface ReviewBenchPage {
  /** Puts so many cases of a built-in procedure into the record of the product; gives how many entries they have. */
  fill(count: number, procedureId: string): Promise<number>;
  /** Puts in one case whose window came back so many minutes later, in the middle of a phase's first step, and whose wall clock is set back by an hour at the end. */
  putResumed(caseId: string, procedureId: string, phase: string, awayMin: number): Promise<void>;
  /** Takes every head away, as in a record from before there were any; gives how many cases there are. */
  forgetHeads(): Promise<number>;
}

/** Played through the machine; the rest are the same cases at other times. */
const PLAYED = 100;
const HOUR_MS = 3_600_000;
/** Appends that wait for the disk at the same time. */
const AT_ONCE = 25;

const page: ReviewBenchPage = {
  fill: async (count, procedureId) => {
    const { played } = playCases(procedureId, Math.min(count, PLAYED));
    const store = await openStore();
    let entryCount = 0;
    for (let from = 0; from < count; from += AT_ONCE) {
      const places = Array.from({ length: Math.min(AT_ONCE, count - from) }, (_, i) => from + i);
      const saved = await Promise.all(
        places.map(async (place) => {
          const entries = renew(played[place % PLAYED] ?? [], procedureId, place);
          entryCount += entries.length;
          const [first] = entries;
          return first ? store.append(first.caseId, entries) : null;
        }),
      );
      const problem = saved.find((result) => result && !result.ok);
      if (problem && !problem.ok) throw new Error(JSON.stringify(problem.error));
    }
    return entryCount;
  },
  forgetHeads,
  putResumed: async (name, procedureId, phase, awayMin) => {
    const { played, procedure } = playCases(procedureId, 1);
    const outline = outlineOf(procedure);
    const step = outline.ok ? outline.value.phases.find(({ id }) => id === phase)?.steps[0] : null;
    const [entries = []] = played;
    const place = entries.findIndex(({ type, data }) => type === 'step.begun' && data.step === step?.id); // prettier-ignore
    const last = entries[place];
    if (!last) throw new Error(`no entry begins ${phase}`);
    const caseId = asId<CaseId>(name);
    const run = asId<RunId>(`${name}-again`);
    const awayMs = awayMin * 60_000;
    const back = { ...last, seq: last.seq + 1, at: last.at + awayMs, mono: 0, run, source: 'wall', type: 'run.resumed', data: {} } as Entry; // prettier-ignore
    const later = entries.slice(place + 1).map((entry) => ({
      ...entry,
      seq: entry.seq + 1,
      at: entry.at + awayMs - (entry.type === 'case.closed' ? HOUR_MS : 0),
      mono: entry.mono - last.mono,
      run,
    }));
    const all = [...entries.slice(0, place + 1), back, ...later];
    const saved = await (await openStore()).append(caseId, all.map((entry) => ({ ...entry, caseId }))); // prettier-ignore
    if (!saved.ok) throw new Error(JSON.stringify(saved.error));
  },
};

/** The names that src/record gives; another name would make the test that uses this fail. */
async function forgetHeads(): Promise<number> {
  const opening = indexedDB.open('cuewall-record');
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    opening.onsuccess = () => {
      resolve(opening.result);
    };
    opening.onerror = () => {
      reject(new Error(String(opening.error)));
    };
  });
  const transaction = database.transaction(['heads', 'settings'], 'readwrite');
  const counting = transaction.objectStore('heads').count();
  transaction.objectStore('heads').clear();
  transaction.objectStore('settings').delete('heads-complete');
  await new Promise((resolve) => (transaction.oncomplete = resolve));
  database.close();
  return counting.result;
}

/** Demo cases of a built-in procedure, and the procedure. */
function playCases(procedureId: string, count: number) {
  const card = describeBuiltIn(procedureId);
  if (!card.ok) throw new Error(card.error.code);
  const procedure = card.value.data;
  const made = makeDemoCases({ procedure, seed: 7, firstAt: Date.UTC(2016, 0, 4, 7, 30), count });
  if (!made.ok) throw new Error(made.error.code);
  return { played: [...made.value], procedure };
}

async function openStore() {
  const { store, fault } = await openRecord(indexedDB);
  if (fault) throw new Error(fault.code);
  return store;
}

function renew(entries: readonly Entry[], procedureId: string, place: number): readonly Entry[] {
  const caseId = asId<CaseId>(`${procedureId}-${String(place).padStart(6, '0')}`);
  return entries.map((entry) => ({ ...entry, caseId, at: entry.at + place * HOUR_MS }));
}

Object.assign(globalThis, { reviewBenchPage: page });
