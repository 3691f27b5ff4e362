/** What runs inside the page that fills the record, for bench review and the review's own browser tests: demo cases, played once, kept under many ids. */
import { asId } from '../../src/domain';
import type { CaseId, Entry } from '../../src/domain';
import { openRecord } from '../../src/record';
import { describeBuiltIn, makeDemoCases } from '../../src/session';

export interface ReviewBenchPage {
  /** Puts so many cases of a built-in procedure into the record of the product; gives how many entries they have. */
  fill(count: number, procedureId: string): Promise<number>;
}

/** Played through the machine; the rest are the same cases at other times. */
const PLAYED = 100;
const HOUR_MS = 3_600_000;
/** Appends that wait for the disk at the same time. */
const AT_ONCE = 25;

const page: ReviewBenchPage = {
  fill: async (count, procedureId) => {
    const card = describeBuiltIn(procedureId);
    if (!card.ok) throw new Error(card.error.code);
    const made = makeDemoCases({ procedure: card.value.data, seed: 7, firstAt: Date.UTC(2016, 0, 4, 7, 30), count: Math.min(count, PLAYED) }); // prettier-ignore
    if (!made.ok) throw new Error(made.error.code);
    const played = [...made.value];
    const { store, fault } = await openRecord(indexedDB);
    if (fault) throw new Error(fault.code);
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
};

function renew(entries: readonly Entry[], procedureId: string, place: number): readonly Entry[] {
  const caseId = asId<CaseId>(`${procedureId}-${String(place).padStart(6, '0')}`);
  return entries.map((entry) => ({ ...entry, caseId, at: entry.at + place * HOUR_MS }));
}

Object.assign(globalThis, { reviewBenchPage: page });
