/** One thing wrong with a procedure file, and the small checks that all others share. */

/** Where, what was expected and what was found. */
export interface Finding {
  /** Where, as a path into the file: `tracks.0.phases.2.title`, or a name: `steps.ream.loop`. */
  readonly path: string;
  readonly expected: string;
  readonly received: string;
}

/** Makes a finding. */
export function found(path: string, expected: string, received: string): Finding {
  return { path, expected, received };
}

/** A finding where something does not hold; none where it does. */
export function unless(
  holds: boolean,
  path: string,
  expected: string,
  received: string,
): readonly Finding[] {
  return holds ? [] : [found(path, expected, received)];
}

/** Finds ids that stand twice. */
export function findDoubles(path: string, ids: readonly string[]): readonly Finding[] {
  return ids
    .filter((id, index) => ids.indexOf(id) !== index)
    .map((id) => found(path, 'ids that differ', `"${id}" twice`));
}

/** Finds names that no list of the file has. */
export function findUnknown(
  path: string,
  what: string,
  names: readonly string[],
  known: readonly string[],
): readonly Finding[] {
  return names
    .filter((name) => !known.includes(name))
    .map((name) => found(path, `${what} of this file`, name));
}
