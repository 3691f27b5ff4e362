/**
 * A part of a case, believed only where everything about it agrees: the opening with its
 * hash, the hash before the part, every entry of it, its chain, and the head where the
 * part is the end. Anything else is a reason to read the whole case.
 */
import type { CaseId } from '../domain';
import { checkChain } from './check-chain';
import { toReadCase } from './read-case';
import type { StoredValue } from './read-case';
import type { CasePart, PartStart } from './record-store';
import { EMPTY_TAIL } from './seal';
import type { Hasher, Tail } from './seal';

/** What was found for a part. */
export interface FoundPart {
  readonly opening: unknown;
  /** The value before the part; undefined where the part begins the case. */
  readonly before: unknown;
  readonly stored: readonly StoredValue[];
  /** How far the case has come; null where that is not known. */
  readonly end: Tail | null;
}

/** The part, or null where anything is not as it should be. */
export function toCasePart(
  hasher: Hasher,
  caseId: CaseId,
  { count, hash: expected }: PartStart,
  { opening, before, stored, end }: FoundPart,
): CasePart | null {
  const hashBefore = count === 0 ? EMPTY_TAIL.hash : hashOf(before);
  if (hashBefore === null || hashBefore !== (expected ?? hashBefore)) return null;
  const start: Tail = { count, hash: hashBefore };
  const first: readonly StoredValue[] = [{ seq: 0, value: opening }];
  const [openingEntry] = toReadCase(caseId, first).entries;
  if (openingEntry === undefined || !isUnbroken(hasher, first, EMPTY_TAIL)) return null;
  const { entries, problem } = toReadCase(caseId, stored, start.count);
  if (problem !== null || !isUnbroken(hasher, stored, start)) return null;
  const hash = hashOf(stored.at(-1)?.value) ?? start.hash;
  const tail: Tail = { count: start.count + entries.length, hash };
  const isEnd = tail.count === end?.count;
  return isBeyond(tail, end) ? null : { opening: openingEntry, entries, tail, isEnd };
}

/** Whether there is more than the head knows of, or another last entry. */
function isBeyond(tail: Tail, end: Tail | null): boolean {
  if (end === null || tail.count < end.count) return false;
  return tail.count > end.count || tail.hash !== end.hash;
}

function isUnbroken(hasher: Hasher, stored: readonly StoredValue[], start: Tail): boolean {
  const { brokenAt, sealedFrom } = checkChain(hasher, stored, null, start);
  return brokenAt.length === 0 && sealedFrom === 0;
}

/** The hash that a value carries; null where it has none. */
export function hashOf(value: unknown): string | null {
  const hash: unknown = typeof value === 'object' && value !== null && Reflect.get(value, 'hash');
  return typeof hash === 'string' ? hash : null;
}
