/** One thing wrong, or risky, with a procedure file, and the small checks that all others share. */
import { FINDING_KINDS } from './kinds';
import type { FindingKind } from './kinds';

/** What was found, where, and what to do about it. */
export interface Finding {
  readonly kind: FindingKind;
  /** Where, as a path into the file (`tracks.0.phases.2.title`) or a name in it (`steps.ream.loop`). */
  readonly path: string;
  readonly expected: string;
  readonly received: string;
  readonly advice: string;
  /** Whether the file is refused for it. */
  readonly isFatal: boolean;
}

/** Makes a finding. */
export function found(
  kind: FindingKind,
  path: string,
  expected: string,
  received: string,
): Finding {
  return { kind, path, expected, received, ...FINDING_KINDS[kind] };
}

/** A finding where something does not hold; none where it does. */
export function unless(
  holds: boolean,
  kind: FindingKind,
  path: string,
  expected: string,
  received: string,
): readonly Finding[] {
  return holds ? [] : [found(kind, path, expected, received)];
}

/** Finds ids that stand twice. */
export function findDoubles(
  kind: FindingKind,
  path: string,
  ids: readonly string[],
): readonly Finding[] {
  const seen = new Set<string>();
  const twice = new Set<string>();
  for (const id of ids) (seen.has(id) ? twice : seen).add(id);
  return [...twice].map((id) => found(kind, path, 'names that differ', `"${id}" twice`));
}

/** Finds names that no list of the file has. */
export function findUnknown(
  kind: 'unknown-name' | 'unknown-instrument' | 'unknown-role',
  path: string,
  what: string,
  names: readonly string[],
  known: readonly string[],
): readonly Finding[] {
  return names
    .filter((name) => !known.includes(name))
    .map((name) => found(kind, path, `${what} of this file`, name));
}
