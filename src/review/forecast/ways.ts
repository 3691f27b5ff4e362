/**
 * Which way a case goes: the alternatives that are taken together, and the phases that
 * occur on that way. Drawn once for a whole case, because an alternative that drops ten
 * phases drops all of them or none; and one that can be taken at several places drops
 * different ones, so whole earlier cases are drawn, not each phase by itself.
 */
import type { Outline, PhaseId } from '../../domain';
import type { CaseDigest } from '../digest/case-digest';
import type { Standing } from './standing';

/** One way through the operation. */
export interface Way {
  /** How many cases went it, and a little more; the main line is worth something before any case. */
  readonly weight: number;
  /** Chance that a case on this way has a phase. */
  readonly chances: ReadonlyMap<PhaseId, number>;
}

/** Before any case the main line is gone, as if by two cases. */
const MAIN_LINE_CASES = 2;
/** What was chosen at least once counts one case more: few cases show a rare way too seldom (Laplace's rule of succession). */
const CHOSEN_CASES = 1;
/** What is said of a phase beforehand is worth this many cases on the main line, and next to nothing on a way that somebody chose. */
const PRIOR_CASES = { mainLine: 2, chosen: 0.2 };
/** Beforehand: a phase of the way occurs, nearly always; any other hardly ever. */
const PRESENCE = { onWay: 0.97, offWay: 0.03 };

/** Phases of the main track that a case had. */
type Had = ReadonlySet<PhaseId>;

/** Learns the ways from cases of the procedure. The first one is the main line. */
export function learnWays(outline: Outline, cases: readonly CaseDigest[]): readonly Way[] {
  const [main] = outline.tracks;
  const phases = outline.phases.filter(({ track }) => track === main?.id);
  const ids = phases.map(({ id }) => id);
  const hadBy = ({ phases: all }: CaseDigest): Had =>
    new Set(all.filter(({ track }) => track === main?.id).map(({ phase }) => phase));
  const chosen = cases.filter(({ alternatives }) => alternatives.length > 0);
  const onMainLine = cases.filter(({ alternatives }) => alternatives.length === 0).map(hadBy);
  const ofMainLine = new Set(phases.filter((it) => it.alternative === null).map(({ id }) => id));
  return [
    {
      weight: onMainLine.length + MAIN_LINE_CASES,
      chances: chancesOf(ids, ofMainLine, onMainLine, PRIOR_CASES.mainLine),
    },
    ...groupBy(chosen, ({ alternatives }) => alternatives).flatMap((its) => learnChosen(ids, its.map(hadBy))),
  ]; // prettier-ignore
}

/** One way for each set of phases that cases with the same alternatives had. */
function learnChosen(ids: readonly PhaseId[], cases: readonly Had[]): readonly Way[] {
  return groupBy(cases, (had) => [...had]).map((alike) => ({
    weight: alike.length * (1 + CHOSEN_CASES / cases.length),
    chances: chancesOf(ids, alike[0] ?? new Set(), alike, PRIOR_CASES.chosen),
  }));
}

/** The share of these cases that had each phase, with what is said of it beforehand. */
function chancesOf(
  ids: readonly PhaseId[],
  onWay: Had,
  cases: readonly Had[],
  prior: number,
): Way['chances'] {
  return new Map(
    ids.map((id) => {
      const before = prior * (onWay.has(id) ? PRESENCE.onWay : PRESENCE.offWay);
      const found = cases.filter((had) => had.has(id)).length;
      return [id, (before + found) / (prior + cases.length)];
    }),
  );
}

/** The ways, weighed by how well they agree with what has occurred and what was passed by so far. */
export function weighWays(ways: readonly Way[], standing: Standing): readonly Way[] {
  const { done, current, passedBy } = standing;
  const occurred = [...done.map(({ phase }) => phase), ...(current ? [current.phase] : [])];
  return ways.map((way) => {
    const chanceOf = (phase: PhaseId) => way.chances.get(phase) ?? 1;
    const seen = occurred.reduce((product, phase) => product * chanceOf(phase), way.weight);
    return {
      ...way,
      weight: passedBy.reduce((product, phase) => product * (1 - chanceOf(phase)), seen),
    };
  });
}

/**
 * The chances of the way that lies at a share (0 to 1) of all their weight. Draws at even
 * shares take each way as often as it weighs, so that chance does not tell a rare one too seldom.
 */
export function wayAt(ways: readonly Way[], share: number): Way['chances'] {
  let left = share * ways.reduce((sum, { weight }) => sum + weight, 0);
  const found = ways.find(({ weight }) => (left -= weight) < 0) ?? ways.at(-1);
  return found?.chances ?? new Map<PhaseId, number>();
}

/** Groups by words, whatever order they come in. */
function groupBy<T>(
  all: readonly T[],
  wordsOf: (one: T) => readonly string[],
): readonly (readonly T[])[] {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const key = JSON.stringify(wordsOf(one).toSorted());
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()];
}
