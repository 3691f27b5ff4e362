/**
 * The end of the case as it is shown: settled, so that it does not flicker. A new phase
 * or a new pass is news and shows at once. In between it is looked at every half
 * minute, and moves only when it has moved far enough to matter. Every window comes to
 * the same answer, because it follows from the record and the time alone.
 */
import { elapsedBetween } from '../../domain';
import type { Entry, Outline, Stamp } from '../../domain';
import { RestOfCase } from './simulate';
import { standingOf } from './standing';
import { StandingFold } from './standing-fold';
import type { Standing } from './standing';
import type { Team } from './team';

/** The expected end on the wall clock, in milliseconds since 1970-01-01 UTC. */
export interface ExpectedEnd {
  readonly endAt: number;
  /** Four of five such cases end between these. */
  readonly lowAt: number;
  readonly highAt: number;
  /** On what it rests. */
  readonly basis: { readonly caseCount: number; readonly hasUsual: boolean };
}

/** How often it is looked at. */
const CHECK_MS = 30_000;
/** It moves when it is off by this much, or by this share of the half interval. */
const LEAST_MOVE_MS = 120_000;
const MOVE_SHARE = 0.25;

interface Shown {
  readonly endMs: number;
  readonly lowMs: number;
  readonly highMs: number;
}

/** Follows one case. Made anew whenever the record grows by something that may matter. */
export class EndForecast {
  readonly #rest: RestOfCase;
  readonly #sinceMs: number;
  /** Shown at each check since the pass began. */
  readonly #shown: Shown[] = [];

  private constructor(
    private readonly team: Team,
    private readonly standing: Standing,
    private readonly from: Stamp,
    seed: number,
  ) {
    this.#rest = new RestOfCase(team, standing, seed);
    this.#sinceMs = standing.current?.sinceMs ?? standing.nowMs;
  }

  /** The forecast of a case from its record so far; `now` is when that is. */
  static follow(
    team: Team,
    entries: readonly Entry[],
    outline: Outline,
    now: Stamp,
    isComplete: boolean,
  ): EndForecast {
    return EndForecast.of(team, new StandingFold(outline).take(entries), now, isComplete);
  }

  /** The same from what was taken of the record so far. */
  static of(team: Team, fold: StandingFold, now: Stamp, isComplete: boolean): EndForecast {
    return new EndForecast(team, standingOf(fold, now, isComplete), now, seedOf(fold.caseId));
  }

  /** What to show; null once the case is over. */
  at(now: Stamp): ExpectedEnd | null {
    if (this.standing.isComplete) return null;
    const sinceFrom = elapsedBetween(this.from, now).ms;
    const nowMs = this.standing.nowMs + sinceFrom;
    const checks = Math.max(0, Math.floor((nowMs - this.#sinceMs) / CHECK_MS));
    for (let check = this.#shown.length; check <= checks; check += 1) {
      this.#shown.push(this.#check(check));
    }
    const shown = this.#shown[checks];
    if (!shown) return null;
    // From the axis of the case to the wall clock as it is now.
    const wallAt = (ms: number) => now.at + ms - nowMs;
    return {
      endAt: wallAt(Math.max(shown.endMs, nowMs)),
      // What was shown stays for a while; that it did not end yet is known at once.
      lowAt: wallAt(Math.max(shown.lowMs, nowMs)),
      highAt: wallAt(shown.highMs),
      basis: { caseCount: this.team.caseCount, hasUsual: this.team.hasUsual },
    };
  }

  #check(check: number): Shown {
    const elapsedMs = check * CHECK_MS;
    const { medianMs, lowMs, highMs } = this.#rest.left(elapsedMs);
    const atMs = this.#sinceMs + elapsedMs;
    const fresh = { endMs: atMs + medianMs, lowMs: atMs + lowMs, highMs: atMs + highMs };
    const before = this.#shown.at(-1);
    if (!before) return fresh;
    const moved = Math.abs(fresh.endMs - before.endMs);
    const matters = Math.max(LEAST_MOVE_MS, (MOVE_SHARE * (highMs - lowMs)) / 2);
    // An end that lies behind, or outside its own interval, is never kept.
    const isStale =
      before.endMs < atMs || fresh.lowMs > before.endMs || fresh.highMs < before.endMs;
    return moved >= matters || isStale ? fresh : before;
  }
}

/** The same case has the same seed in every window. */
function seedOf(text: string): number {
  let seed = 2166136261;
  for (const character of text) seed = Math.imul(seed ^ (character.codePointAt(0) ?? 0), 16777619);
  return seed >>> 0;
}

/** On what a forecast rests, in a few words. */
export function basisToText({ caseCount, hasUsual }: ExpectedEnd['basis']): string {
  if (caseCount === 0) return 'usual times of the procedure';
  const cases = `${caseCount} earlier ${caseCount === 1 ? 'case' : 'cases'}`;
  // Below this, what the procedure calls usual still weighs in the result.
  return caseCount < FEW_CASES && hasUsual ? `${cases} and usual times` : cases;
}

/** The same for the wall, where two or three words have room. */
export function basisToShortText({ caseCount, hasUsual }: ExpectedEnd['basis']): string {
  if (caseCount === 0) return 'usual';
  return caseCount < FEW_CASES && hasUsual ? 'few cases' : `${caseCount} cases`;
}

/** With this many cases the procedure's usual times weigh less than a tenth. */
const FEW_CASES = 18;
