/**
 * Synthetic teams, to hold the forecast against: each has its own pace, its own habits
 * in each phase, lognormal spreads, a loop, delays and phases that are left out. None
 * of it is drawn from the forecast's own beliefs.
 */
import { asId } from '../../src/domain';
import type { Outline } from '../../src/domain';
import { DIGEST_VERSION } from '../../src/review/digest/case-digest';
import type { CaseDigest } from '../../src/review/digest/case-digest';
import type { Standing } from '../../src/review/forecast/standing';
import { createRandom } from '../../src/review/statistics/random';
import type { Random } from '../../src/review/statistics/random';

const MINUTE_MS = 60_000;

/** Phases as a procedure lists them, with what a person calls usual, in minutes. */
export interface PhasePlan {
  readonly id: string;
  readonly usualMin: number | null;
  /** Median and spread of the first pass in this team, the chance of a repeat, the chance to be left out. */
  readonly medianMin: number;
  readonly sigma: number;
  readonly again: number;
  readonly missing: number;
  /** The chance that something has to be fetched, which takes 5 to 15 minutes more. */
  readonly delay?: number;
}

/** Some cases of a team end after so many phases: all that follow are dropped together. */
export interface EarlyStop {
  readonly after: number;
  readonly chance: number;
}

/** What an early stop is called in a digest. */
export const STOPPED = 'Stopped early';

/** One made case: passes of each phase that occurred, in minutes. */
export type MadeCase = readonly { readonly id: string; readonly passesMin: readonly number[] }[];

const USUAL = {
  exposure: 6,
  wedge: 7,
  reaming: 8,
  'post-hole': 6,
  baseplate: 5,
  screws: 9,
  sphere: 6,
};

/** A team whose habits differ from what the procedure calls usual. */
export function makeTeam(random: Random): readonly PhasePlan[] {
  const pace = 0.15 + 0.12 * random.normal();
  return Object.entries(USUAL).map(([id, usualMin]) => ({
    id,
    usualMin,
    medianMin: usualMin * Math.exp(pace + 0.15 * random.normal()),
    sigma: 0.15 + 0.2 * random.uniform(),
    again: id === 'reaming' ? 0.1 + 0.3 * random.uniform() : 0,
    missing: id === 'screws' ? 0.05 : 0,
    delay: 0.02,
  }));
}

/** One case of a team. */
export function makeCase(team: readonly PhasePlan[], random: Random, paceSigma = 0.1): MadeCase {
  const pace = paceSigma * random.normal();
  return team.flatMap(({ id, medianMin, sigma, again, missing, delay = 0 }) => {
    if (random.uniform() < missing) return [];
    const fetchMin = random.uniform() < delay ? 5 + 10 * random.uniform() : 0;
    const passesMin = [medianMin * Math.exp(pace + sigma * random.normal()) + fetchMin];
    while (random.uniform() < again) {
      passesMin.push(medianMin * 0.4 * Math.exp(pace + 0.35 * random.normal()));
    }
    return [{ id, passesMin }];
  });
}

export function outlineOf(team: readonly PhasePlan[]): Outline {
  const track = asId<Outline['tracks'][number]['id']>('field');
  return {
    title: 'Synthetic',
    tracks: [{ id: track, title: 'Field' }],
    phases: team.map(({ id, usualMin }) => ({
      id: asId(id),
      track,
      title: id,
      isQuiet: false,
      usualMin,
      alternative: null,
      steps: [],
    })),
    alternatives: [],
    holdPoints: [],
    captures: [],
  };
}

export function digestOf(made: MadeCase, place: number): CaseDigest {
  let fromMs = 0;
  const phases = made.map(({ id, passesMin }) => {
    const passesMs = passesMin.map((minutes) => minutes * MINUTE_MS);
    const totalMs = passesMs.reduce((sum, ms) => sum + ms, 0);
    const phase: CaseDigest['phases'][number] = {
      track: asId('field'),
      phase: asId(id),
      title: id,
      fromMs,
      totalMs,
      workMs: totalMs,
      waitMs: 0,
      heldMs: 0,
      passesMs,
      usualMs: null,
      isWhole: true,
      ending: 'done',
      isEstimated: false,
    };
    fromMs += totalMs;
    return phase;
  });
  return {
    version: DIGEST_VERSION,
    caseId: asId(`made-${place}`),
    mode: 'demo',
    procedureId: asId('synthetic'),
    procedure: 'Synthetic',
    side: 'left',
    roles: [],
    openedAt: place * 86_400_000,
    closedAt: place * 86_400_000 + fromMs,
    outcome: 'finished',
    totalMs: fromMs,
    isEstimated: false,
    entryCount: 100,
    hasVoiceCards: false,
    alternatives: [],
    phases,
    holds: [],
    overrides: [],
    refusedAt: [],
    readBacks: { offered: 0, confirmed: 0, corrected: 0, lapsed: 0 },
    speech: [],
    named: {},
  };
}

export function totalMin(made: MadeCase): number {
  return made.flatMap(({ passesMin }) => passesMin).reduce((sum, minutes) => sum + minutes, 0);
}

/** Where a made case stands after some minutes. */
export function standingAt(made: MadeCase, team: readonly PhasePlan[], minutes: number): Standing {
  const order = team.map(({ id }) => id);
  let fromMin = 0;
  const done: { phase: Standing['ahead'][number]; firstMs: number }[] = [];
  for (const { id, passesMin } of made) {
    let passFrom = fromMin;
    for (const [index, pass] of passesMin.entries()) {
      if (minutes < passFrom + pass) {
        const [firstMin = 0] = passesMin;
        return {
          done,
          current: {
            phase: asId(id),
            pass: index + 1,
            sinceMs: passFrom * MINUTE_MS,
            firstMs: index > 0 ? firstMin * MINUTE_MS : null,
          },
          ahead: order.slice(order.indexOf(id) + 1).map((other) => asId(other)),
          passedBy: order
            .slice(0, order.indexOf(id))
            .filter((other) => !made.some((phase) => phase.id === other))
            .map((other) => asId(other)),
          isComplete: false,
          nowMs: minutes * MINUTE_MS,
        };
      }
      passFrom += pass;
    }
    done.push({ phase: asId(id), firstMs: (passesMin[0] ?? 0) * MINUTE_MS });
    fromMin = passFrom;
  }
  return {
    done,
    current: null,
    ahead: [],
    passedBy: [],
    isComplete: true,
    nowMs: minutes * MINUTE_MS,
  };
}

export { createRandom };
