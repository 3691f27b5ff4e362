/**
 * Reading entries that another version wrote. Stored values stay as they are; each
 * upgrader turns a value of its version into the next one while it is being read.
 * Upgraders are numbered without gaps: the one at index 0 reads version 1.
 */
import { ENTRY_VERSION, err, fault, ok } from '../domain';
import type { CaseId, Entry, Fault, Result } from '../domain';
import { findEnvelopeFlaw } from './envelope';

/** Turns a stored value of one version into the next version. */
export type Upgrader = (stored: Readonly<Record<string, unknown>>) => Record<string, unknown>;

/** One for every version before the current one. */
export const UPGRADERS: readonly Upgrader[] = [
  // Version 2 added the hash, which belongs to the store, and what an entry answers.
  (stored) => ({ ...stored, version: 2 }),
];

/**
 * The entry in a stored value, brought to the current version and checked.
 * Faults: `record-too-new` for a later version, `record-unreadable` for anything else.
 */
export function readEntry(
  stored: unknown,
  place: { readonly caseId: CaseId; readonly seq: number },
  upgraders: readonly Upgrader[] = UPGRADERS,
  currentVersion = ENTRY_VERSION,
): Result<Entry, Fault> {
  const unreadable = (detail: string): Result<Entry, Fault> =>
    err(fault('record-unreadable', { seq: String(place.seq), detail }));
  if (!isObject(stored)) return unreadable(`expected an object, received ${typeof stored}`);
  const version = stored['version'];
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    return unreadable(`version: expected a whole number from 1, received ${String(version)}`);
  }
  if (version > currentVersion) {
    const params = { received: String(version), expected: String(currentVersion) };
    return err(fault('record-too-new', params));
  }
  const upgraded = upgraders.slice(version - 1).reduce((value, upgrade) => upgrade(value), stored);
  const flaw = findEnvelopeFlaw(upgraded);
  if (flaw !== null) return unreadable(flaw);
  // The hash is the store's; check-chain.ts looks at it where it lies.
  const { hash, ...plain } = upgraded;
  void hash;
  const entry = plain as unknown as Entry;
  if (entry.seq !== place.seq) return unreadable(`seq: received ${entry.seq}`);
  if (entry.caseId !== place.caseId) return unreadable(`caseId: received "${entry.caseId}"`);
  return ok(entry);
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
