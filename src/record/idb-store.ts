/**
 * The record in the browser's IndexedDB. An append resolves after its transaction
 * has completed with strict durability. It uses `add`, so the browser itself refuses
 * to overwrite an entry, and one refusal aborts the whole batch. Where idb-keyval
 * could not help: docs/decisions/0002.
 */
import { err, fault, ok } from '../domain';
import type { CaseId, Entry, Fault, Result } from '../domain';
import { appendFailed, findBatchFault, findSequenceFault } from './append-faults';
import { checkChain } from './check-chain';
import { createDatabase } from './database';
import type { DatabaseOptions } from './database';
import { NO_HEAD, moveHead } from './head';
import type { Head } from './head';
import { addLines } from './idb-append';
import { findHead, readStoredHead } from './idb-head';
import { listTombstones, removeCase, setTailAside } from './idb-leaving';
import { readStoredValues } from './idb-read';
import { findCaseSummaries } from './idb-summaries';
import { sortNewestFirst, toReadCase, withMissingEnd } from './read-case';
import type { RecordStore } from './record-store';
import { loadHasher, sealEntries } from './seal';

/** The name of the database that holds the record. */
export const RECORD_DATABASE = 'cuewall-record';
/** How often an append looks again where another window was quicker. */
const ATTEMPTS = 3;

export type IdbStoreOptions = Pick<DatabaseOptions, 'indexedDB'> & Partial<DatabaseOptions>;

/** A record on disk. Opens its database at the first use, and again after it was lost. */
export function createIdbStore(options: IdbStoreOptions): RecordStore {
  const withStores = createDatabase({ name: RECORD_DATABASE, durability: 'strict', ...options });
  /** Where each case stood after this window's last append. */
  const heads = new Map<CaseId, Head>();

  function lookUpHead(caseId: CaseId): Promise<Head> {
    return loadHasher().then((hasher) =>
      withStores('readonly', ['heads', 'entries'], (it) => findHead(it, caseId, hasher)),
    );
  }

  async function append(caseId: CaseId, entries: readonly Entry[]): Promise<Fault | null> {
    const hasher = await loadHasher();
    const start = entries[0]?.seq ?? 0;
    let known = heads.get(caseId) ?? null;
    for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
      if (known?.count !== start) known = await lookUpHead(caseId);
      const before = known;
      const sequenceFault = findSequenceFault(start, before.count);
      if (sequenceFault !== null) return sequenceFault;
      const { sealed, tail } = sealEntries(hasher, before, entries);
      const after = moveHead(before, entries, tail);
      const lines = sealed.map((value) => ({ seq: value.seq, value }));
      const added = await withStores('readwrite', ['entries', 'heads'], (transaction) =>
        addLines(transaction, caseId, lines, { before, after }),
      );
      if (added.kind === 'refused') return added.fault;
      if (added.kind === 'added') {
        heads.set(caseId, after);
        return null;
      }
      known = null;
    }
    return fault('record-conflict', { seq: String(start) });
  }

  return {
    append: async (caseId, entries) => {
      const problem = findBatchFault(caseId, entries);
      if (problem !== null) return err(problem);
      if (entries.length === 0) return ok(undefined);
      return attemptWrite(entries, async () => {
        const refusal = await append(caseId, entries);
        return refusal === null ? ok(undefined) : err(refusal);
      });
    },
    read: (caseId) =>
      attemptRead(async () => {
        const hasher = await loadHasher();
        const { stored, head } = await withStores('readonly', ['entries', 'heads'], async (it) => ({
          stored: await readStoredValues(it.objectStore('entries'), caseId),
          head: await readStoredHead(it, caseId),
        }));
        if (stored.length === 0 && head === null) return unknownCase(caseId);
        const seal = checkChain(hasher, stored, head);
        return ok(withMissingEnd({ ...toReadCase(caseId, stored), seal }, head?.count ?? 0));
      }),
    readStored: (caseId) =>
      attemptRead(async () => {
        const stored = await withStores('readonly', ['entries'], (it) =>
          readStoredValues(it.objectStore('entries'), caseId),
        );
        return stored.length === 0 ? unknownCase(caseId) : ok(stored.map(({ value }) => value));
      }),
    listCases: () =>
      attemptRead(async () =>
        ok(sortNewestFirst(await withStores('readonly', ['entries', 'heads'], findCaseSummaries))),
      ),
    setAside: (caseId, from) =>
      attemptWrite([], async () => {
        heads.delete(caseId);
        const hasher = await loadHasher();
        return ok(
          await withStores('readwrite', ['entries', 'heads', 'aside'], (it) =>
            setTailAside(it, caseId, from, hasher),
          ),
        );
      }),
    importCase: (caseId, values) =>
      attemptWrite(values, async () => {
        const last = values.at(-1);
        if (last === undefined) return unknownCase(caseId);
        const after = moveHead(NO_HEAD, values, { count: values.length, hash: last.hash });
        const lines = values.map((value) => ({ seq: value.seq, value }));
        const added = await withStores('readwrite', ['entries', 'heads'], (transaction) =>
          addLines(transaction, caseId, lines, { before: NO_HEAD, after }),
        );
        return added.kind === 'added'
          ? ok(undefined)
          : err(fault('import-exists', { name: caseId }));
      }),
    remove: (caseId, removedAt) =>
      attemptWrite([], async () => {
        heads.delete(caseId);
        const hasher = await loadHasher();
        return withStores('readwrite', ['entries', 'heads', 'aside', 'keys', 'removed'], (it) =>
          removeCase(it, caseId, removedAt, hasher),
        );
      }),
    listRemoved: () =>
      attemptRead(async () => ok(await withStores('readonly', ['removed'], listTombstones))),
  };
}

function unknownCase(caseId: CaseId): Result<never, Fault> {
  return err(fault('case-unknown', { name: caseId }));
}

async function attemptWrite<T>(
  entries: readonly Entry[],
  write: () => Promise<Result<T, Fault>>,
): Promise<Result<T, Fault>> {
  try {
    return await write();
  } catch (reason) {
    return err(findVersionFault(reason) ?? appendFailed(entries, describeReason(reason)));
  }
}

async function attemptRead<T>(read: () => Promise<Result<T, Fault>>): Promise<Result<T, Fault>> {
  try {
    return await read();
  } catch (reason) {
    const unavailable = fault('record-unavailable', { detail: describeReason(reason) });
    return err(findVersionFault(reason) ?? unavailable);
  }
}

/** The browser says VersionError where a newer program has changed the layout of the database. */
function findVersionFault(reason: unknown): Fault | null {
  if (!(reason instanceof Error) || reason.name !== 'VersionError') return null;
  return fault('record-too-new', { received: 'a newer database layout', expected: '2' });
}

function describeReason(reason: unknown): string {
  return reason instanceof Error ? `${reason.name}: ${reason.message}` : String(reason);
}
