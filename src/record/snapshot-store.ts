/**
 * Snapshots: what a case's entries had led to, kept so that a long case is back at once
 * after a restart. A cache in a database of its own, never the truth: a snapshot is given
 * back only to the build that made it, only undamaged, and with the hash of the last entry
 * that it covers, so that the record can be asked whether that entry still stands there.
 * Whatever goes wrong here costs time at the next start and nothing else.
 */
import { clear, createStore, del, get, set } from 'idb-keyval';
import type { UseStore } from 'idb-keyval';
import type { CaseId } from '../domain';
import { loadHasher } from './seal';
import type { Tail } from './seal';

/** The name of the database of snapshots. */
export const SNAPSHOT_DATABASE = 'cuewall-snapshots';

/** What a snapshot says, and how far the case had come. */
export interface Snapshot {
  /** Entries that it covers, and the hash of the last of them. */
  readonly tail: Tail;
  /** Made and understood by the session alone. */
  readonly text: string;
}

export interface SnapshotStore {
  /** The snapshot of a case; null where there is none that can be used. */
  read(caseId: CaseId): Promise<Snapshot | null>;
  /** Keeps the snapshot of a case that had `count` entries; false where it could not be kept. */
  write(caseId: CaseId, count: number, text: string): Promise<boolean>;
  remove(caseId: CaseId): Promise<void>;
  /** Throws all of them away. */
  clear(): Promise<void>;
}

/** What the record does for its snapshots. */
export interface SnapshotGuard {
  /** The hash of the entry before this position; null where there is none. */
  hashBefore(caseId: CaseId, count: number): Promise<string | null>;
  /** As the entries of the case are kept: encrypted under a lock. */
  cover(caseId: CaseId, value: unknown): Promise<unknown>;
  uncover(caseId: CaseId, value: unknown): Promise<unknown>;
}

/** Where snapshots lie. */
export interface SnapshotPlace {
  get(caseId: CaseId): Promise<unknown>;
  set(caseId: CaseId, value: unknown): Promise<void>;
  del(caseId: CaseId): Promise<void>;
  clear(): Promise<void>;
}

interface Kept {
  readonly build: string;
  readonly tail: Tail;
  readonly text: string;
  /** SHA-256 of all the rest: a damaged snapshot is none. */
  readonly digest: string;
}

/** Snapshots of one build of the program. */
export function createSnapshotStore(
  guard: SnapshotGuard,
  build: string,
  place: SnapshotPlace = createIdbPlace(),
): SnapshotStore {
  const digestOf = async (tail: Tail, text: string): Promise<string> =>
    (await loadHasher())(`${build}\n${tail.count}\n${tail.hash}\n${text}`);

  /** A cache that fails is as good as none; the reason still goes to the console. */
  async function attempt<T>(work: () => Promise<T>, otherwise: T): Promise<T> {
    try {
      return await work();
    } catch (reason) {
      console.warn(`snapshot: ${String(reason)}`);
      return otherwise;
    }
  }

  return {
    read: (caseId) =>
      attempt(async () => {
        const kept = (await guard.uncover(caseId, await place.get(caseId))) as Kept | undefined;
        if (kept?.build !== build) return null;
        const { tail, text, digest } = kept;
        return digest === (await digestOf(tail, text)) ? { tail, text } : null;
      }, null),
    write: (caseId, count, text) =>
      attempt(async () => {
        const hash = await guard.hashBefore(caseId, count);
        if (hash === null) return false;
        const tail = { count, hash };
        const kept: Kept = { build, tail, text, digest: await digestOf(tail, text) };
        await place.set(caseId, await guard.cover(caseId, kept));
        return true;
      }, false),
    remove: (caseId) => attempt(() => place.del(caseId), undefined),
    clear: () => attempt(() => place.clear(), undefined),
  };
}

/** On disk; opened at the first use, so that a browser without one only fails there. */
function createIdbPlace(): SnapshotPlace {
  let opened: UseStore | null = null;
  const store = (): UseStore => (opened ??= createStore(SNAPSHOT_DATABASE, 'snapshots'));
  return {
    get: (caseId) => get<unknown>(caseId, store()),
    set: (caseId, value) => set(caseId, value, store()),
    del: (caseId) => del(caseId, store()),
    clear: () => clear(store()),
  };
}
