/**
 * What a team's earlier cases and the procedure's usual times say about each phase of
 * the main track: how long a first pass takes, how often it is done again and how
 * long that takes, which ways cases go, and how much the pace of
 * a whole case varies. Everything the forecast simulates from.
 */
import type { Outline, PhaseId } from '../../domain';
import type { CaseDigest, PhaseDigest } from '../digest/case-digest';
import { believeCases, believeExpert, learn } from './belief';
import type { Belief } from './belief';
import { learnWays } from './ways';
import type { Way } from './ways';

/** What is believed about one phase. */
export interface PhaseBelief {
  readonly phase: PhaseId;
  readonly title: string;
  readonly first: Belief;
  readonly again: Belief;
  /** Chance that a pass is followed by another. */
  readonly againChance: number;
}

export interface Team {
  readonly phases: readonly PhaseBelief[];
  /** The ways that cases go, by the alternatives taken. */
  readonly ways: readonly Way[];
  /** Variance, on log scale, of the pace of a whole case. */
  readonly paceVariance: number;
  /** Variance of what is believed about the team's pace itself; falls with every case. */
  readonly paceDoubt: number;
  readonly caseCount: number;
  /** Whether the procedure gives usual times. */
  readonly hasUsual: boolean;
}

/** Older cases say less about today: no more than this many, the latest ones. */
const MOST_CASES = 60;
/** A second pass is usually the shorter one. Common practice; gives way to the first few repeats. */
const AGAIN_SHARE = 0.5;
/** Before any case: how many passes that belief is worth, and how often one is repeated. */
const LOOP_PRIOR = { passes: 4, again: 0.12 };
/** Before any case: pace of a case, and of a team against what the procedure calls usual. */
const PACE_PRIOR = { variance: 0.08 ** 2, cases: 10, doubt: 0.18 ** 2 };

/**
 * Learns from cases of the same procedure and mode, in any order. Null where a phase of the
 * main line has neither a usual time nor two cases: then nothing can be said.
 */
export function learnTeam(outline: Outline, digests: readonly CaseDigest[]): Team | null {
  const [main] = outline.tracks;
  const cases = digests
    .filter(({ closedAt, outcome }) => closedAt !== null && outcome !== 'abandoned')
    .toSorted((a, b) => b.openedAt - a.openedAt)
    .slice(0, MOST_CASES);
  const phases = outline.phases.filter(({ track }) => track === main?.id);
  const paceVariance = findPaceVariance(
    phases.map(({ id }) => id),
    cases,
  );
  const beliefs = phases.map((phase) => believePhase(phase, cases, paceVariance));
  const isUnknown = phases.some(
    ({ alternative }, index) => alternative === null && !beliefs[index],
  );
  if (beliefs.length === 0 || isUnknown) return null;
  return {
    phases: beliefs.filter((belief) => belief !== null),
    ways: learnWays(outline, cases),
    paceVariance,
    paceDoubt: PACE_PRIOR.doubt / (1 + (cases.length * PACE_PRIOR.doubt) / (paceVariance + 0.01)),
    caseCount: cases.length,
    hasUsual: phases.some(({ usualMin }) => usualMin !== null),
  };
}

function believePhase(
  { id, track, title, usualMin }: Outline['phases'][number],
  cases: readonly CaseDigest[],
  shared: number,
): PhaseBelief | null {
  const found = cases.flatMap((digest) => findPhase(digest, id, track));
  const whole = found.filter(({ isWhole }) => isWhole);
  const firsts = whole.flatMap(({ passesMs }) => toLogs(passesMs.slice(0, 1)));
  const agains = whole.flatMap(({ passesMs }) => toLogs(passesMs.slice(1)));
  const first =
    usualMin === null
      ? believeCases(firsts, shared)
      : learn(believeExpert(usualMin * 60_000), firsts, shared);
  if (!first) return null;
  const passes = whole.reduce((sum, { passesMs }) => sum + passesMs.length, 0);
  return {
    phase: id,
    title,
    first,
    again: learn(believeExpert(Math.exp(first.mu) * AGAIN_SHARE), agains, shared),
    againChance: (LOOP_PRIOR.again + agains.length) / (LOOP_PRIOR.passes + passes),
  };
}

function findPhase(
  { phases }: CaseDigest,
  id: PhaseId,
  track: PhaseDigest['track'],
): readonly PhaseDigest[] {
  return phases.filter((phase) => phase.phase === id && phase.track === track);
}

function toLogs(passesMs: readonly number[]): readonly number[] {
  return passesMs.filter((ms) => ms >= 1000).map(Math.log);
}

/**
 * The mean covariance between phases of one case: what is shared is the pace of the case.
 * Drawn towards the prior while there are few cases.
 */
function findPaceVariance(ids: readonly PhaseId[], cases: readonly CaseDigest[]): number {
  const columns = ids.map((id) => {
    const logs = cases.map(({ phases }) => {
      const found = phases.find(({ phase, isWhole }) => phase === id && isWhole);
      const [ms = 0] = found?.passesMs ?? [];
      return ms >= 1000 ? Math.log(ms) : null;
    });
    const known = logs.filter((log) => log !== null);
    const centre = known.reduce((sum, log) => sum + log, 0) / Math.max(1, known.length);
    return logs.map((log) => (log === null ? null : log - centre));
  });
  let sum = 0;
  let pairs = 0;
  for (const [index, column] of columns.entries()) {
    for (const other of columns.slice(index + 1)) {
      for (const [place, value] of column.entries()) {
        const beside = other[place];
        if (value === null || beside === null || beside === undefined) continue;
        sum += value * beside;
        pairs += 1;
      }
    }
  }
  const count = Math.max(0, cases.length - 1);
  const seen = pairs === 0 ? 0 : (sum / pairs) * ((count + 1) / Math.max(1, count));
  const blended =
    (PACE_PRIOR.cases * PACE_PRIOR.variance + count * seen) / (PACE_PRIOR.cases + count);
  return Math.max(0, blended);
}
