/**
 * The record in memory: for tests, for a browser without storage, and to carry a
 * case on when the disk fails. Durable only as long as the window lives. Values are
 * copied on the way in and out, so nobody can change what was written.
 */
import { err, fault, ok } from '../domain';
import type { CaseId, Entry, Fault, Result } from '../domain';
import { appendFailed, findBatchFault, findSequenceFault } from './append-faults';
import { checkChain, findTail } from './check-chain';
import { findClosing, sortNewestFirst, toReadCase, toSummary } from './read-case';
import type { StoredValue } from './read-case';
import { toCasePart } from './read-part';
import type { CaseSummary, RecordStore, Tombstone } from './record-store';
import { loadHasher, sealEntries } from './seal';
import type { Hasher, Tail } from './seal';

/** Where a memory store writes. Two stores over one map stand for two windows over one disk. */
export type MemoryContents = Map<CaseId, readonly StoredValue[]>;

/** A record that is gone when the window closes. */
export function createMemoryStore(cases: MemoryContents = new Map()): RecordStore {
  const removed: Tombstone[] = [];
  /** Where each case stood, and the very list that was so, to know whether it still is. */
  const tails = new Map<CaseId, { readonly of: readonly StoredValue[]; readonly tail: Tail }>();

  function tailOf(hasher: Hasher, caseId: CaseId, stored: readonly StoredValue[]): Tail {
    const known = tails.get(caseId);
    return known?.of === stored ? known.tail : findTail(hasher, stored);
  }

  function add(hasher: Hasher, caseId: CaseId, entries: readonly Entry[]): Fault | null {
    const stored = cases.get(caseId) ?? [];
    const tail = tailOf(hasher, caseId, stored);
    const problem = findSequenceFault(entries[0]?.seq ?? tail.count, tail.count);
    if (problem !== null) return problem;
    const { sealed, tail: after } = sealEntries(hasher, tail, entries);
    const values = [...stored, ...sealed.map(toStored)];
    cases.set(caseId, values);
    tails.set(caseId, { of: values, tail: after });
    return null;
  }

  return {
    append: async (caseId, entries) => {
      const hasher = await loadHasher();
      const problem = findBatchFault(caseId, entries);
      if (problem !== null) return err(problem);
      if (entries.length === 0) return ok(undefined);
      try {
        const refusal = add(hasher, caseId, entries);
        return refusal === null ? ok(undefined) : err(refusal);
      } catch (reason) {
        // A value that can't be copied could not be stored on disk either.
        return err(appendFailed(entries, String(reason)));
      }
    },
    read: async (caseId) => {
      const hasher = await loadHasher();
      const stored = cases.get(caseId);
      if (stored === undefined) return unknownCase(caseId);
      const seal = checkChain(hasher, stored);
      return ok({ ...toReadCase(caseId, structuredClone(stored)), seal });
    },
    readAfter: async (caseId, start, most = Infinity) => {
      const hasher = await loadHasher();
      const all = cases.get(caseId);
      if (all === undefined) return unknownCase(caseId);
      const stored = structuredClone(all.slice(start.count, start.count + most));
      const found = { opening: all[0]?.value, before: all[start.count - 1]?.value, stored };
      return ok(toCasePart(hasher, caseId, start, { ...found, end: findTail(hasher, all) }));
    },
    readStored: (caseId) => {
      const stored = cases.get(caseId);
      if (stored === undefined) return Promise.resolve(unknownCase(caseId));
      return Promise.resolve(ok(stored.map(({ value }) => structuredClone(value))));
    },
    listCases: (latest = Infinity) => {
      const summaries = [...cases].map(([caseId, stored]) => summarise(caseId, stored));
      return Promise.resolve(ok(sortNewestFirst(summaries).slice(0, latest)));
    },
    listHeads: () =>
      Promise.resolve(
        ok(
          [...cases].map(([caseId, stored]) => {
            const { openedAt, entryCount, isClosed } = summarise(caseId, stored);
            return { caseId, openedAt, entryCount, isClosed };
          }),
        ),
      ),
    setAside: (caseId, from) => {
      const stored = cases.get(caseId) ?? [];
      const kept = stored.filter(({ seq }) => seq < from);
      cases.set(caseId, kept);
      return Promise.resolve(ok(stored.length - kept.length));
    },
    importCase: (caseId, values) => {
      if (cases.has(caseId)) return Promise.resolve(err(fault('import-exists', { name: caseId })));
      cases.set(caseId, values.map(toStored));
      return Promise.resolve(ok(undefined));
    },
    remove: async (caseId, removedAt) => {
      const hasher = await loadHasher();
      const stored = cases.get(caseId);
      if (stored === undefined) return unknownCase(caseId);
      const { openedAt, entryCount } = summarise(caseId, stored);
      const { hash } = checkChain(hasher, stored);
      const tombstone: Tombstone = { caseId, openedAt, removedAt, entryCount, hash };
      cases.delete(caseId);
      removed.unshift(tombstone);
      return ok(tombstone);
    },
    listRemoved: () => Promise.resolve(ok([...removed])),
  };
}

function unknownCase(caseId: CaseId): Result<never, Fault> {
  return err(fault('case-unknown', { name: caseId }));
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
