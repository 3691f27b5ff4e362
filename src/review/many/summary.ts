/**
 * Many cases at a glance: each phase's durations, loops, holds by reason, overrides,
 * read-backs and speech. One fold over digests. Durations in minutes.
 */
import type { CaseDigest, PhaseDigest, SpeechDigest } from '../digest/case-digest';
import { summarise } from '../statistics/percentile';
import type { FiveNumbers } from '../statistics/percentile';

/** One phase over many cases. */
export interface PhaseSummary {
  readonly key: string;
  readonly track: string;
  readonly title: string;
  readonly usualMin: number | null;
  /** Null where no case had it whole. */
  readonly minutes: FiveNumbers | null;
  /** The latest durations, oldest first, for the strip of points. */
  readonly latest: readonly number[];
  /** Cases in which it was left out, cut short or timed across a restart. */
  readonly notCounted: number;
  readonly loops: number;
}

export interface RankedReason {
  readonly reason: string;
  readonly count: number;
  readonly minutes: number;
}

export interface ManyCases {
  readonly caseCount: number;
  readonly totalMinutes: FiveNumbers | null;
  readonly phases: readonly PhaseSummary[];
  readonly loopsPerCase: FiveNumbers | null;
  readonly holds: readonly RankedReason[];
  readonly overrides: readonly RankedReason[];
  readonly refusedAt: readonly RankedReason[];
  readonly readBacks: CaseDigest['readBacks'];
  readonly speech: readonly SpeechDigest[];
}

/** How many points a strip has room for. */
const STRIP_POINTS = 120;
const MINUTE_MS = 60_000;

/** Adds everything up; digests oldest first. */
export function summariseCases(digests: readonly CaseDigest[]): ManyCases {
  return {
    caseCount: digests.length,
    totalMinutes: summarise(digests.map(({ totalMs }) => totalMs / MINUTE_MS)),
    phases: summarisePhases(digests),
    loopsPerCase: summarise(digests.map(countLoops)),
    holds: rank(digests.flatMap(({ holds }) => holds)),
    overrides: rank(
      digests.flatMap(({ overrides }) =>
        overrides.map(({ holdPoint, reason }) => ({ reason: `${holdPoint}: ${reason}`, ms: 0 })),
      ),
    ),
    refusedAt: rank(
      digests.flatMap(({ refusedAt }) => refusedAt.map((reason) => ({ reason, ms: 0 }))),
    ),
    readBacks: addReadBacks(digests),
    speech: addSpeech(digests),
  };
}

/** How often a case went back to do something again. */
export function countLoops({ phases }: CaseDigest): number {
  return phases.reduce((sum, { passesMs }) => sum + Math.max(0, passesMs.length - 1), 0);
}

/** Names a phase of a track. */
export function phaseKey({ track, phase }: Pick<PhaseDigest, 'track' | 'phase'>): string {
  return `${track}/${phase}`;
}

interface Gathered {
  readonly last: PhaseDigest;
  readonly minutes: number[];
  notCounted: number;
  loops: number;
}

function summarisePhases(digests: readonly CaseDigest[]): readonly PhaseSummary[] {
  const gathered = new Map<string, Gathered>();
  for (const { phases } of digests) {
    for (const phase of phases) {
      const key = phaseKey(phase);
      let row = gathered.get(key);
      if (!row) gathered.set(key, (row = { last: phase, minutes: [], notCounted: 0, loops: 0 }));
      if (phase.isWhole) row.minutes.push(phase.totalMs / MINUTE_MS);
      else row.notCounted += 1;
      row.loops += Math.max(0, phase.passesMs.length - 1);
    }
  }
  return [...gathered].map(([key, { last, minutes, notCounted, loops }]) => ({
    key,
    track: last.track,
    title: last.title,
    usualMin: last.usualMs === null ? null : last.usualMs / MINUTE_MS,
    minutes: summarise(minutes),
    latest: minutes.slice(-STRIP_POINTS),
    notCounted,
    loops,
  }));
}

/** Most frequent first; of equals the one that took longest. */
function rank(
  items: readonly { readonly reason: string; readonly ms: number }[],
): readonly RankedReason[] {
  const rows = new Map<string, { count: number; minutes: number }>();
  for (const { reason, ms } of items) {
    const row = rows.get(reason) ?? { count: 0, minutes: 0 };
    row.count += 1;
    row.minutes += ms / MINUTE_MS;
    rows.set(reason, row);
  }
  return [...rows]
    .map(([reason, row]) => ({ reason, ...row }))
    .sort((a, b) => b.count - a.count || b.minutes - a.minutes);
}

function addReadBacks(digests: readonly CaseDigest[]): CaseDigest['readBacks'] {
  const sum = { offered: 0, confirmed: 0, corrected: 0, lapsed: 0 };
  for (const { readBacks } of digests) {
    sum.offered += readBacks.offered;
    sum.confirmed += readBacks.confirmed;
    sum.corrected += readBacks.corrected;
    sum.lapsed += readBacks.lapsed;
  }
  return sum;
}

/** Worst share first, so that what to train or rename stands on top. */
function addSpeech(digests: readonly CaseDigest[]): readonly SpeechDigest[] {
  const rows = new Map<
    string,
    { person: string; phrase: string; attempts: number; first: number }
  >();
  for (const { speech } of digests) {
    for (const { person, phrase, attempts, first } of speech) {
      const key = `${person}\n${phrase}`;
      const row = rows.get(key) ?? { person, phrase, attempts: 0, first: 0 };
      row.attempts += attempts;
      row.first += first;
      rows.set(key, row);
    }
  }
  return [...rows.values()].sort((a, b) => a.first / a.attempts - b.first / b.attempts);
}
