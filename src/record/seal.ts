/**
 * The chain: each stored entry carries the SHA-256 of itself in canonical form
 * (RFC 8785) together with the hash before it. Published in docs/record-format.md,
 * so that anybody can check a file without this program. Proves that nothing was
 * changed by accident or by hand in between; not who wrote it.
 */
import canonicalize from 'canonicalize';
import { createSHA256 } from 'hash-wasm';
import type { Entry } from '../domain';

/** An entry as it is stored and exported. */
export type SealedEntry = Entry & { readonly hash: string };

/** How far a case has come: how many entries, and the hash of the last one. */
export interface Tail {
  readonly count: number;
  readonly hash: string;
}

/** What the first entry of a case has as the hash before it. */
const FIRST_PREVIOUS = '0'.repeat(64);

/** A case without entries. */
export const EMPTY_TAIL: Tail = { count: 0, hash: FIRST_PREVIOUS };

/** Hashes text, encoded as UTF-8, to 64 lower-case hexadecimal digits. */
export type Hasher = (text: string) => string;

let loading: Promise<Hasher> | null = null;

/** SHA-256 (FIPS 180-4), ready to be used without waiting. */
export function loadHasher(): Promise<Hasher> {
  loading ??= createSHA256().then((sha256) => (text) => sha256.init().update(text).digest('hex'));
  return loading;
}

/** The hash of one stored value after the hash before it. Throws where the value has no canonical form. */
export function hashEntry(hasher: Hasher, prev: string, value: object): string {
  const text = canonicalize({ ...value, hash: undefined, prev });
  if (text === undefined) throw new Error('no canonical form');
  return hasher(text);
}

/** Seals the next entries of a case. Throws where an entry has no canonical form (NaN, lone surrogates). */
export function sealEntries(
  hasher: Hasher,
  tail: Tail,
  entries: readonly Entry[],
): { readonly sealed: readonly SealedEntry[]; readonly tail: Tail } {
  let { hash } = tail;
  const sealed = entries.map((entry) => {
    hash = hashEntry(hasher, hash, entry);
    return { ...entry, hash };
  });
  return { sealed, tail: { count: tail.count + entries.length, hash } };
}
