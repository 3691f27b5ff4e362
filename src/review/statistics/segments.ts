/**
 * Splits a series where the team marked a change ("new tray from here"), so that
 * each part is judged against itself and not against what came before.
 */
export interface Segment<T> {
  /** What was changed; null for the part before the first mark. */
  readonly label: string | null;
  /** Place of the first value among all. */
  readonly from: number;
  readonly values: readonly T[];
}

export interface ChangeMark {
  /** From this moment on, in milliseconds since 1970-01-01 UTC. */
  readonly at: number;
  readonly label: string;
}

/** The parts between marks, in order of time; parts without values are left out. */
export function splitAtChanges<T extends { readonly at: number }>(
  values: readonly T[],
  marks: readonly ChangeMark[],
): readonly Segment<T>[] {
  const inOrder = marks.toSorted((a, b) => a.at - b.at);
  const bounds = [{ at: -Infinity, label: null }, ...inOrder] as readonly {
    readonly at: number;
    readonly label: string | null;
  }[];
  return bounds.flatMap(({ at, label }, index): Segment<T>[] => {
    const end = bounds[index + 1]?.at ?? Infinity;
    const part = values.filter((value) => value.at >= at && value.at < end);
    const [first] = part;
    return first ? [{ label, from: values.indexOf(first), values: part }] : [];
  });
}
