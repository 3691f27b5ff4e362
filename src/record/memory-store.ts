/**
 * The record in memory: for tests, for a browser without storage, and to carry a
 * case on when the disk fails. Durable only as long as the window lives. Values are
 * copied on the way in and out, so nobody can change what was written.
 */
import { err, fault, ok } from '../domain';
import type { CaseId, Entry } from '../domain';
import { appendFailed, findBatchFault, findSequenceFault } from './append-faults';
import { findClosing, sortNewestFirst, toReadCase, toSummary } from './read-case';
import type { StoredValue } from './read-case';
import type { CaseSummary, RecordStore } from './record-store';

/** Where a memory store writes. Two stores over one map stand for two windows over one disk. */
export type MemoryContents = Map<CaseId, readonly StoredValue[]>;

/** A record that is gone when the window closes. */
export function createMemoryStore(cases: MemoryContents = new Map()): RecordStore {
  return {
    append: (caseId, entries) => {
      const stored = cases.get(caseId) ?? [];
      const next = (stored.at(-1)?.seq ?? -1) + 1;
      const start = entries[0]?.seq ?? next;
      const problem = findBatchFault(caseId, entries) ?? findSequenceFault(start, next);
      if (problem !== null) return Promise.resolve(err(problem));
      if (entries.length === 0) return Promise.resolve(ok(undefined));
      try {
        cases.set(caseId, [...stored, ...entries.map(toStored)]);
        return Promise.resolve(ok(undefined));
      } catch (reason) {
        // A value that can't be copied could not be stored on disk either.
        return Promise.resolve(err(appendFailed(entries, String(reason))));
      }
    },
    read: (caseId) => {
      const stored = cases.get(caseId);
      if (stored === undefined)
        return Promise.resolve(err(fault('case-unknown', { name: caseId })));
      return Promise.resolve(ok(toReadCase(caseId, structuredClone(stored))));
    },
    listCases: () => {
      const summaries = [...cases].map(([caseId, stored]) => summarise(caseId, stored));
      return Promise.resolve(ok(sortNewestFirst(summaries)));
    },
  };
}

function toStored(entry: Entry): StoredValue {
  return { seq: entry.seq, value: structuredClone(entry) };
}

function summarise(caseId: CaseId, stored: readonly StoredValue[]): CaseSummary {
  const nothing: StoredValue = { seq: 0, value: undefined };
  const closing = stored
    .map(({ value }) => findClosing(value))
    .findLast((answer) => answer !== 'look-further');
  return toSummary(caseId, stored[0] ?? nothing, stored.at(-1) ?? nothing, {
    entryCount: stored.length,
    isClosed: closing === 'closed',
  });
}
