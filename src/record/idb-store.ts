/**
 * The record in the browser's IndexedDB, through idb-keyval's custom store. An
 * append resolves after its transaction has completed with strict durability. It
 * uses `add`, so the browser itself refuses to overwrite an entry, and one refusal
 * aborts the whole batch. Where idb-keyval could not help: docs/decisions/0002.
 */
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import { appendFailed, findBatchFault } from './append-faults';
import { createDatabase } from './database';
import type { DatabaseOptions } from './database';
import { addEntries } from './idb-append';
import { readStoredValues } from './idb-read';
import { findCaseSummaries } from './idb-summaries';
import { sortNewestFirst, toReadCase } from './read-case';
import type { RecordStore } from './record-store';

/** The name of the database that holds the record. */
export const RECORD_DATABASE = 'cuewall-record';

export type IdbStoreOptions = Pick<DatabaseOptions, 'indexedDB'> & Partial<DatabaseOptions>;

/** A record on disk. Opens its database at the first use, and again after it was lost. */
export function createIdbStore(options: IdbStoreOptions): RecordStore {
  const useStore = createDatabase({ name: RECORD_DATABASE, durability: 'strict', ...options });

  return {
    append: async (caseId, entries) => {
      const problem = findBatchFault(caseId, entries);
      if (problem !== null) return err(problem);
      if (entries.length === 0) return ok(undefined);
      try {
        const refusal = await useStore('readwrite', (store) => addEntries(store, caseId, entries));
        return refusal === null ? ok(undefined) : err(refusal);
      } catch (reason) {
        return err(findVersionFault(reason) ?? appendFailed(entries, describeReason(reason)));
      }
    },
    read: (caseId) =>
      attemptRead(async () => {
        const stored = await useStore('readonly', (store) => readStoredValues(store, caseId));
        if (stored.length === 0) return err(fault('case-unknown', { name: caseId }));
        return ok(toReadCase(caseId, stored));
      }),
    listCases: () =>
      attemptRead(async () => ok(sortNewestFirst(await useStore('readonly', findCaseSummaries)))),
  };
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
  return fault('record-too-new', { received: 'a newer database layout', expected: '1' });
}

function describeReason(reason: unknown): string {
  return reason instanceof Error ? `${reason.name}: ${reason.message}` : String(reason);
}
