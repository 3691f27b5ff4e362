/**
 * Which way a case goes: the alternatives that are taken together, and the phases that
 * occur on that way. Drawn once for a whole case, because an alternative that drops ten
 * phases drops all of them or none.
 */
import type { Outline, PhaseId } from '../../domain';
import type { CaseDigest } from '../digest/case-digest';
import type { Random } from '../statistics/random';
import type { Standing } from './standing';

/** One way through the operation. */
export interface Way {
  /** How many cases went it; the main line is worth a little before any case. */
  readonly weight: number;
  /** Chance that a case on this way has a phase. */
  readonly chances: ReadonlyMap<PhaseId, number>;
}

/** Before any case the main line is gone, as if by two cases. */
const MAIN_LINE_CASES = 2;
/** What the procedure says of a phase is worth this many cases on the main line, and next to nothing on a way that somebody chose. */
const PRIOR_CASES = { mainLine: 2, chosen: 0.2 };
/** Before any case: a phase of the way occurs, nearly always; any other hardly ever. */
const PRESENCE = { onWay: 0.97, offWay: 0.03 };

/** Learns the ways from cases of the procedure. The first one is the main line. */
export function learnWays(outline: Outline, cases: readonly CaseDigest[]): readonly Way[] {
  const [main] = outline.tracks;
  const phases = outline.phases.filter(({ track }) => track === main?.id);
  const labels = new Map(outline.alternatives.map(({ id, label }) => [id, label]));
  const grouped = new Map<string, { taken: readonly string[]; cases: CaseDigest[] }>();
  grouped.set(keyOf([]), { taken: [], cases: [] });
  for (const digest of cases) {
    const key = keyOf(digest.alternatives);
    const group = grouped.get(key) ?? { taken: digest.alternatives, cases: [] };
    grouped.set(key, { ...group, cases: [...group.cases, digest] });
  }
  return [...grouped.values()].map(({ taken, cases: own }) => {
    const prior = taken.length === 0 ? PRIOR_CASES.mainLine : PRIOR_CASES.chosen;
    const chances = phases.map(({ id, track, alternative }) => {
      const isOnWay = alternative === null || taken.includes(labels.get(alternative) ?? '');
      const found = own.filter((digest) =>
        digest.phases.some((phase) => phase.phase === id && phase.track === track),
      );
      const before = prior * (isOnWay ? PRESENCE.onWay : PRESENCE.offWay);
      return [id, (before + found.length) / (prior + own.length)] as const;
    });
    const weight = own.length + (taken.length === 0 ? MAIN_LINE_CASES : 0);
    return { weight, chances: new Map(chances) };
  });
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

/** The chances of one of the ways, drawn by its weight. Where there is one only, nothing is drawn. */
export function drawWay(ways: readonly Way[], random: Random): Way['chances'] {
  const [mainLine] = ways;
  if (!mainLine) return new Map();
  if (ways.length === 1) return mainLine.chances;
  let left = random.uniform() * ways.reduce((sum, { weight }) => sum + weight, 0);
  return (ways.find(({ weight }) => (left -= weight) < 0) ?? mainLine).chances;
}

function keyOf(alternatives: readonly string[]): string {
  return JSON.stringify(alternatives.toSorted());
}
