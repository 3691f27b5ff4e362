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
import type { Added, Line } from './idb-append';
import { createCaseAccess } from './idb-cases';
import type { CaseAccess } from './idb-cases';
import { coverValues, uncoverValues } from './cover';
import type { KeyRing } from './cover';
import { findHead, headOfValues } from './idb-head';
import { makeMissingHeads } from './missing-heads';
import type { TellOlder } from './missing-heads';
import { listTombstones, removeCase, setTailAside } from './idb-leaving';
import { findCaseHeads, findCaseSummaries } from './idb-summaries';
import type { FoundSummary } from './idb-summaries';
import { openingOf, sortNewestFirst, toReadCase, withMissingEnd } from './read-case';
import { hashOf, toCasePart } from './read-part';
import type { CaseSummary, RecordStore } from './record-store';
import { loadHasher, sealEntries } from './seal';
import type { SealedEntry } from './seal';
import { createSecondCopy } from './second-copy';
import type { Batch, CopyPlace, SecondCopy } from './second-copy';
import type { SnapshotGuard } from './snapshot-store';

/** The name of the database that holds the record. */
export const RECORD_DATABASE = 'cuewall-record';
/** How often an append looks again where another window was quicker. */
const ATTEMPTS = 3;
/** What an append writes to: the key of a case goes there with its first entries. */
const PLAIN_STORES = ['entries', 'heads'] as const;
const KEYED_STORES = [...PLAIN_STORES, 'keys'] as const;
/** Under a lock a value is bound to its place; a snapshot has one that no entry has. */
const SNAPSHOT_SEQ = -1;
const NONE_MADE: ReadonlyMap<CaseId, Head> = new Map();

export type IdbStoreOptions = Pick<DatabaseOptions, 'indexedDB'> &
  Partial<DatabaseOptions> & {
    /** Opens and makes the keys of cases; without it every case lies open. */
    readonly ring?: KeyRing;
    /** Where a second copy is kept; without it there is none. */
    readonly copyPlace?: CopyPlace;
    /** Told how far it is with cases from before there were heads, the first time that a list is asked for. */
    readonly tellOlder?: TellOlder;
  };

/** The record on disk, and what can be done about its lock. */
export type IdbStore = RecordStore &
  Pick<CaseAccess, 'coverAll' | 'putAwayKeys'> & {
    readonly copy: SecondCopy | null;
    /** What snapshots of cases ask of the record. */
    readonly guard: SnapshotGuard;
  };

/** A record on disk. Opens its database at the first use, and again after it was lost. */
export function createIdbStore({
  ring,
  copyPlace,
  tellOlder = () => undefined,
  ...options
}: IdbStoreOptions): IdbStore {
  const withStores = createDatabase({ name: RECORD_DATABASE, durability: 'strict', ...options });
  const copy = copyPlace ? createSecondCopy(withStores, copyPlace) : null;
  const access = createCaseAccess(withStores, ring ?? null);
  /** Where each case stood after this window's last append. */
  const heads = new Map<CaseId, Head>();
  /** After a write was cut short the browser may find the files damaged at its next start: then saved means copied as well. */
  let isDoubtful = false;

  /** Heads of cases that had none; asked again only while the record can't keep them. */
  async function madeHeads(): Promise<ReadonlyMap<CaseId, Head>> {
    return makeMissingHeads(withStores, await loadHasher(), tellOlder);
  }

  function lookUpHead(caseId: CaseId): Promise<Head> {
    return loadHasher().then((hasher) =>
      withStores('readonly', ['heads', 'entries'], (it) => findHead(it, caseId, hasher)),
    );
  }

  /** Values as they are stored: encrypted where a lock is set. */
  async function toLines(caseId: CaseId, values: readonly SealedEntry[], isNew: boolean) {
    const writing = await access.keyFor(caseId, isNew);
    if (!writing.ok) return writing;
    const { key, fresh } = writing.value;
    const plain = values.map((value) => ({ seq: value.seq, value }));
    return ok({ lines: key === null ? plain : await coverValues(key, caseId, plain), fresh });
  }

  /** One attempt, in one transaction; what went in goes to the copy as well. */
  async function write(caseId: CaseId, lines: readonly Line[], batch: Batch): Promise<Added> {
    await copy?.settled();
    const stores = batch.key === null ? PLAIN_STORES : KEYED_STORES;
    const added = await withStores('readwrite', stores, (it) => addLines(it, caseId, lines, batch));
    if (added.kind !== 'added') return added;
    heads.set(caseId, batch.after);
    void copy?.add(caseId, lines, batch);
    if (isDoubtful) await copy?.settled();
    return added;
  }

  async function append(caseId: CaseId, entries: readonly Entry[]): Promise<Fault | null> {
    const hasher = await loadHasher();
    const start = entries[0]?.seq ?? 0;
    let known = heads.get(caseId) ?? null;
    for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
      const isOwn = known?.count === start;
      const before: Head = known !== null && isOwn ? known : await lookUpHead(caseId);
      const sequenceFault = findSequenceFault(start, before.count);
      if (sequenceFault !== null) return sequenceFault;
      const { sealed, tail } = sealEntries(hasher, before, entries);
      const after = moveHead(before, entries, tail);
      const toWrite = await toLines(caseId, sealed, start === 0);
      if (!toWrite.ok) return toWrite.error;
      const { lines, fresh } = toWrite.value;
      const added = await write(caseId, lines, { before, after, isOwn, key: fresh });
      if (added.kind !== 'moved') return added.kind === 'refused' ? added.fault : null;
      known = null;
    }
    return fault('record-conflict', { seq: String(start) });
  }

  return {
    append: async (caseId, entries) => {
      const problem = findBatchFault(caseId, entries);
      if (problem !== null) return err(problem);
      if (entries.length === 0) return ok(undefined);
      const written = await attemptWrite(entries, async () => {
        const refusal = await append(caseId, entries);
        return refusal === null ? ok(undefined) : err(refusal);
      });
      if (!written.ok && written.error.code === 'record-append-failed') isDoubtful = true;
      return written;
    },
    read: (caseId) =>
      attemptRead(async () => {
        const hasher = await loadHasher();
        const found = await access.find(caseId);
        if (!found.ok) return found;
        const { stored, head } = found.value;
        if (stored.length === 0 && head === null) return unknownCase(caseId);
        const seal = checkChain(hasher, stored, head);
        return ok(withMissingEnd({ ...toReadCase(caseId, stored), seal }, head?.count ?? 0));
      }),
    readAfter: (caseId, start, most = Infinity) =>
      attemptRead(async () => {
        const hasher = await loadHasher();
        const found = await access.findPart(caseId, start.count, most);
        if (!found.ok) return found;
        if (found.value.opening === undefined && found.value.end === null)
          return unknownCase(caseId);
        return ok(toCasePart(hasher, caseId, start, found.value));
      }),
    readStored: (caseId) =>
      attemptRead(async () => {
        const found = await access.find(caseId);
        if (!found.ok) return found;
        const { stored } = found.value;
        return stored.length === 0 ? unknownCase(caseId) : ok(stored.map(({ value }) => value));
      }),
    listCases: (latest) =>
      attemptRead(async () => {
        const made = latest === undefined ? NONE_MADE : await madeHeads();
        const found = await withStores('readonly', ['entries', 'heads', 'keys'], (it) =>
          findCaseSummaries(it, made, latest),
        );
        return ok(sortNewestFirst(await Promise.all(found.map((it) => openSummary(access, it)))));
      }),
    listHeads: () =>
      attemptRead(async () => {
        const made = await madeHeads();
        return ok(await withStores('readonly', ['heads'], (it) => findCaseHeads(it, made)));
      }),
    setAside: (caseId, from) =>
      attemptWrite([], async () => {
        heads.delete(caseId);
        const hasher = await loadHasher();
        const found = await access.find(caseId);
        if (!found.ok) return found;
        const kept = found.value.stored.filter(({ seq }) => seq < from);
        const head = headOfValues(hasher, caseId, kept);
        const moved = await withStores('readwrite', ['entries', 'heads', 'aside'], (it) =>
          setTailAside(it, caseId, from, head),
        );
        copy?.renew(caseId);
        return ok(moved);
      }),
    importCase: (caseId, values) =>
      attemptWrite(values, async () => {
        const last = values.at(-1);
        if (last === undefined) return unknownCase(caseId);
        const after = moveHead(NO_HEAD, values, { count: values.length, hash: last.hash });
        const toWrite = await toLines(caseId, values, true);
        if (!toWrite.ok) return toWrite;
        const { lines, fresh } = toWrite.value;
        const added = await withStores('readwrite', ['entries', 'heads', 'keys'], (transaction) =>
          addLines(transaction, caseId, lines, {
            before: NO_HEAD,
            after,
            isOwn: false,
            key: fresh,
          }),
        );
        if (added.kind !== 'added') return err(fault('import-exists', { name: caseId }));
        copy?.renew(caseId);
        return ok(undefined);
      }),
    remove: (caseId, removedAt) =>
      attemptWrite([], async () => {
        heads.delete(caseId);
        await copy?.forget(caseId);
        const hasher = await loadHasher();
        return withStores('readwrite', ['entries', 'heads', 'aside', 'keys', 'removed'], (it) =>
          removeCase(it, caseId, removedAt, hasher),
        );
      }),
    listRemoved: () =>
      attemptRead(async () => ok(await withStores('readonly', ['removed'], listTombstones))),
    coverAll: async () => {
      const covered = await access.coverAll();
      await copy?.renewAll();
      return covered;
    },
    putAwayKeys: access.putAwayKeys,
    copy,
    guard: {
      hashBefore: async (caseId, count) => hashOf(await access.findValue(caseId, count - 1)),
      cover: async (caseId, value) => {
        const writing = await access.keyFor(caseId, false);
        if (!writing.ok) throw new Error(writing.error.code);
        const { key } = writing.value;
        if (key === null) return value;
        return (await coverValues(key, caseId, [{ seq: SNAPSHOT_SEQ, value }]))[0]?.value;
      },
      uncover: async (caseId, value) => {
        const writing = await access.keyFor(caseId, false);
        if (!writing.ok) throw new Error(writing.error.code);
        const { key } = writing.value;
        if (key === null) return value;
        return (await uncoverValues(key, caseId, [{ seq: SNAPSHOT_SEQ, value }]))[0]?.value;
      },
    },
  };
}

/** The line of a case under the lock: what its head says and, where the lock is open, its opening. */
async function openSummary(access: CaseAccess, found: FoundSummary): Promise<CaseSummary> {
  const { summary, head, isCovered } = found;
  if (!isCovered || head === null) return summary;
  const { openedAt, lastAt, mode, isClosed } = head;
  const opened = await access.find(summary.caseId);
  const [first] = opened.ok ? opened.value.stored : [];
  const read = first === undefined ? summary : { ...summary, ...openingOf(summary.caseId, first) };
  return { ...read, openedAt, lastAt, mode, isClosed };
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
