/**
 * Cases on disk behind the lock: reads values and decrypts them where the lock allows,
 * encrypts what is to be written. Where no lock is set, everything passes as it is.
 */
import { promisifyRequest } from 'idb-keyval';
import { err, fault, ok } from '../domain';
import type { CaseId, Fault, Result } from '../domain';
import { coverValues, makeCaseKey, openCaseKey, uncoverValues } from './cover';
import type { KeyRing, StoredKey } from './cover';
import type { WithStores } from './database';
import type { Head } from './head';
import { readStoredHead } from './idb-head';
import { caseRange, entryKey, keyToSeq, partRange } from './idb-keys';
import { readStoredValues } from './idb-read';
import type { StoredValue } from './read-case';
import type { FoundPart } from './read-part';

/** A case as it lies on disk, decrypted. */
export interface FoundCase {
  readonly stored: readonly StoredValue[];
  readonly head: Head | null;
}

export interface CaseAccess {
  /** Every value of a case. Faults: `record-locked`. */
  find(caseId: CaseId): Promise<Result<FoundCase, Fault>>;
  /** What `toCasePart` wants to know of a part. Faults: `record-locked`. */
  findPart(caseId: CaseId, start: number, most: number): Promise<Result<FoundPart, Fault>>;
  /** The value at a position; null where there is none or the lock is closed. */
  findValue(caseId: CaseId, seq: number): Promise<unknown>;
  /** The key to write a case with; null where it lies open. `fresh` is to be stored with the first values. */
  keyFor(caseId: CaseId, isNew: boolean): Promise<Result<WritingKey, Fault>>;
  /** Encrypts every closed case that lies open; gives how many. */
  coverAll(): Promise<number>;
  /** Forgets the keys of closed cases that this browser could use without the passphrase. */
  putAwayKeys(): Promise<void>;
}

export interface WritingKey {
  readonly key: CryptoKey | null;
  readonly fresh: StoredKey | null;
}

/** `ring` is null where the store knows no lock. */
export function createCaseAccess(withStores: WithStores, ring: KeyRing | null): CaseAccess {
  /** Keys of the cases that this window writes. */
  const writing = new Map<CaseId, WritingKey>();

  async function readRaw(caseId: CaseId): Promise<FoundCase & { readonly key: StoredKey | null }> {
    return withStores('readonly', ['entries', 'heads', 'keys'], async (it) => {
      const [stored, head, key] = await Promise.all([
        readStoredValues(it.objectStore('entries'), caseId),
        readStoredHead(it, caseId),
        promisifyRequest<StoredKey | undefined>(it.objectStore('keys').get(caseId)),
      ]);
      return { stored, head, key: key ?? null };
    });
  }

  /** The live key serves only while the case is open; afterwards the lock decides. */
  function openKey(key: StoredKey, head: Head | null): Promise<CryptoKey | null> {
    if (ring === null) return Promise.resolve(null);
    return openCaseKey(ring, head?.isClosed === true ? { ...key, live: null } : key);
  }

  async function coverCase(keyRing: KeyRing, caseId: CaseId): Promise<void> {
    const { stored } = await readRaw(caseId);
    const made = await makeCaseKey(keyRing);
    const live = made?.live ?? null;
    if (made === null || live === null) return;
    const covered = await coverValues(live, caseId, stored);
    await withStores('readwrite', ['entries', 'keys'], (it) => {
      for (const { seq, value } of covered) it.objectStore('entries').put(value, [caseId, seq]);
      return promisifyRequest(it.objectStore('keys').put({ ...made, live: null }, caseId));
    });
  }

  return {
    find: async (caseId) => {
      const { stored, head, key } = await readRaw(caseId);
      if (key === null) return ok({ stored, head });
      const opened = await openKey(key, head);
      if (opened === null) return err(fault('record-locked'));
      return ok({ stored: await uncoverValues(opened, caseId, stored), head });
    },
    findPart: async (caseId, start, most) => {
      const to = start + most;
      const raw = await withStores('readonly', ['entries', 'heads', 'keys'], async (it) => {
        const entries = it.objectStore('entries');
        const at = async (seq: number): Promise<StoredValue> => ({
          seq,
          value: await promisifyRequest<unknown>(entries.get(entryKey(caseId, seq))),
        });
        const [opening, before, values, keys, head, key] = await Promise.all([
          at(0),
          at(Math.max(0, start - 1)),
          promisifyRequest<unknown[]>(entries.getAll(partRange(caseId, start, to))),
          promisifyRequest(entries.getAllKeys(partRange(caseId, start, to))),
          readStoredHead(it, caseId),
          promisifyRequest<StoredKey | undefined>(it.objectStore('keys').get(caseId)),
        ]);
        const stored = keys.map((found, index) => ({ seq: keyToSeq(found), value: values[index] }));
        return { lines: [opening, before, ...stored], head, key };
      });
      const { lines, head, key } = raw;
      const opened = key ? await openKey(key, head) : null;
      if (key && opened === null) return err(fault('record-locked'));
      const [opening, before, ...stored] = opened
        ? await uncoverValues(opened, caseId, lines)
        : lines;
      return ok({ opening: opening?.value, before: before?.value, stored, end: head });
    },
    findValue: async (caseId, seq) => {
      const found = await withStores('readonly', ['entries', 'heads', 'keys'], async (it) => {
        const [value, head, key] = await Promise.all([
          promisifyRequest<unknown>(it.objectStore('entries').get(entryKey(caseId, seq))),
          readStoredHead(it, caseId),
          promisifyRequest<StoredKey | undefined>(it.objectStore('keys').get(caseId)),
        ]);
        return { value, head, key };
      });
      if (!found.key) return found.value;
      const opened = await openKey(found.key, found.head);
      const [line] = opened
        ? await uncoverValues(opened, caseId, [{ seq, value: found.value }])
        : [];
      return line?.value ?? null;
    },
    keyFor: async (caseId, isNew) => {
      if (ring === null) return ok({ key: null, fresh: null });
      const known = writing.get(caseId);
      if (known !== undefined) return ok(known);
      const { key, stored, head } = await withKeyOnly(withStores, caseId);
      const isFirst = isNew && stored === 0;
      const fresh = isFirst && key === null ? await makeCaseKey(ring) : null;
      const used = fresh ?? key;
      const opened = used === null ? null : await openCaseKey(ring, used);
      if (used !== null && opened === null) return err(fault('record-locked'));
      const found: WritingKey = { key: opened, fresh };
      // Only what is on disk is remembered; the fresh one is looked up again after its first append.
      if (fresh === null && head !== null) writing.set(caseId, found);
      return ok(found);
    },
    coverAll: async () => {
      if (ring === null) return 0;
      const open = await withStores('readonly', ['heads', 'keys'], async (it) => {
        const heads = it.objectStore('heads');
        const [keys, values, covered] = await Promise.all([
          promisifyRequest(heads.getAllKeys()),
          promisifyRequest<Head[]>(heads.getAll()),
          promisifyRequest(it.objectStore('keys').getAllKeys()),
        ]);
        const hidden = new Set(covered.map(String));
        return keys.map(String).filter((caseId, index) => values[index]?.isClosed === true && !hidden.has(caseId)); // prettier-ignore
      });
      for (const caseId of open) await coverCase(ring, caseId as CaseId);
      return open.length;
    },
    putAwayKeys: async () => {
      await withStores('readwrite', ['heads', 'keys'], async (it) => {
        const keys = it.objectStore('keys');
        for (const caseId of await promisifyRequest(keys.getAllKeys())) {
          const head = await readStoredHead(it, String(caseId) as CaseId);
          const key = await promisifyRequest<StoredKey | undefined>(keys.get(caseId));
          if (head?.isClosed === true && key && key.live !== null)
            keys.put({ ...key, live: null }, caseId);
        }
      });
      writing.clear();
    },
  };
}

async function withKeyOnly(
  withStores: WithStores,
  caseId: CaseId,
): Promise<{
  readonly key: StoredKey | null;
  readonly stored: number;
  readonly head: Head | null;
}> {
  return withStores('readonly', ['entries', 'heads', 'keys'], async (it) => {
    const [key, stored, head] = await Promise.all([
      promisifyRequest<StoredKey | undefined>(it.objectStore('keys').get(caseId)),
      promisifyRequest(it.objectStore('entries').count(caseRange(caseId))),
      readStoredHead(it, caseId),
    ]);
    return { key: key ?? null, stored, head };
  });
}
