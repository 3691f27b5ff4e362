/**
 * Checks the chain of a case as it was found, value by value. Where an entry was
 * changed the chain breaks at that entry alone, because the next one is measured
 * against the hash that is stored.
 */
import type { SealReport } from '../domain';
import type { StoredValue } from './read-case';
import { EMPTY_TAIL, hashEntry } from './seal';
import type { Hasher, Tail } from './seal';

/** The version from which on entries carry their hash. */
const FIRST_SEALED_VERSION = 2;

/**
 * Where the chain holds. `expected` is how far the case had come when it was last written, where
 * that is known; `start` is what lies before the values, where they are not the whole case.
 */
export function checkChain(
  hasher: Hasher,
  stored: readonly StoredValue[],
  expected: Tail | null = null,
  start: Tail = EMPTY_TAIL,
): SealReport {
  const brokenAt: number[] = [];
  let sealedFrom = 0;
  let prev = start.hash;
  let next = start.count;
  for (const { seq, value } of stored) {
    if (seq !== next) brokenAt.push(next);
    const { own, reckoned } = hashesOf(hasher, prev, value);
    // Entries of the first version have no hash, but only before all others.
    const isUnsealed = own === null && sealedFrom === seq && isFirstVersion(value);
    if (isUnsealed) sealedFrom = seq + 1;
    else if (own === null || own !== reckoned) brokenAt.push(seq);
    prev = own ?? reckoned ?? prev;
    next = seq + 1;
  }
  if (expected !== null && !isSameTail(expected, { count: next, hash: prev })) brokenAt.push(next);
  return {
    brokenAt: [...new Set(brokenAt)],
    sealedFrom,
    hash: stored.length === 0 ? null : prev,
  };
}

function isSameTail(one: Tail, other: Tail): boolean {
  return one.count === other.count && one.hash === other.hash;
}

/** How far a case has come, from its values; those without a hash are reckoned with. */
export function findTail(hasher: Hasher, stored: readonly StoredValue[]): Tail {
  let { hash } = EMPTY_TAIL;
  for (const { value } of stored) {
    const { own, reckoned } = hashesOf(hasher, hash, value);
    hash = own ?? reckoned ?? hash;
  }
  const last = stored.at(-1);
  return { count: last === undefined ? 0 : last.seq + 1, hash };
}

function isFirstVersion(value: unknown): boolean {
  const version = typeof value === 'object' && value !== null && Reflect.get(value, 'version');
  return typeof version === 'number' && version < FIRST_SEALED_VERSION;
}

/** The hash that a value carries, and the one that it should; null where there is none. */
function hashesOf(
  hasher: Hasher,
  prev: string,
  value: unknown,
): { readonly own: string | null; readonly reckoned: string | null } {
  if (typeof value !== 'object' || value === null) return { own: null, reckoned: null };
  const own: unknown = Reflect.get(value, 'hash');
  try {
    const reckoned = hashEntry(hasher, prev, value);
    return { own: typeof own === 'string' ? own : null, reckoned };
  } catch {
    // A value that has no canonical form was not written by this program.
    return { own: null, reckoned: null };
  }
}
