/** Holds the forecast against cases it has not seen: how often its interval holds, and how far it is off. */
import { mean } from 'd3-array';
import { asId } from '../../src/domain';
import type { PhaseId } from '../../src/domain';
import { learnTeam } from '../../src/review/forecast/team';
import type { Team } from '../../src/review/forecast/team';
import { RestOfCase } from '../../src/review/forecast/simulate';
import { digestOf, makeCase, outlineOf, standingAt, STOPPED, totalMin } from './synthetic-team';
import type { EarlyStop, MadeCase, PhasePlan } from './synthetic-team';
import { createRandom } from './synthetic-team';
import type { Random } from '../../src/review/statistics/random';

const MINUTE_MS = 60_000;
/**
 * When it is asked. A third and two thirds are of the team's usual total, because nobody
 * in the room knows how long this case will take: asking at a share of the time that
 * it took in the end tells the asker something, and is measured beside it.
 */
const MOMENTS = {
  start: { share: 0, of: 'usual' },
  third: { share: 1 / 3, of: 'usual' },
  twoThirds: { share: 2 / 3, of: 'usual' },
  thirdOfActual: { share: 1 / 3, of: 'actual' },
  twoThirdsOfActual: { share: 2 / 3, of: 'actual' },
} as const;

export interface TrialFigures {
  readonly asked: number;
  /** Share of cases that ended within the 80 % interval. */
  readonly held: number;
  /** Mean absolute error of the median, in minutes. */
  readonly error: number;
  /** The same of the procedure's usual total minus elapsed, and of the team's own mean total minus elapsed. */
  readonly errorOfUsual: number;
  readonly errorOfOwnMean: number;
  /** The same of a forecaster that was told the law of every phase; only for phases that occur once, undelayed and independent. */
  readonly errorOfOracle: number | null;
}

export type Trial = Readonly<Record<keyof typeof MOMENTS, TrialFigures>>;

/** Asks about held-out cases of many teams, each with its own earlier cases. */
export function tryForecast(options: {
  readonly seed: number;
  readonly teams: number;
  readonly heldOut: number;
  /** Earlier cases of a team. */
  readonly history: (random: Random) => number;
  readonly makeTeam: (random: Random) => readonly PhasePlan[];
  readonly paceSigma?: number;
  readonly earlyStop?: EarlyStop;
  /** Ask the one that knows the truth as well. */
  readonly withOracle?: boolean;
}): Trial {
  const random = createRandom(options.seed);
  const seen: Ask[] = [];
  for (let index = 0; index < options.teams; index += 1) {
    const team = options.makeTeam(random);
    const make = () => makeStopping(team, random, options);
    const history = Array.from({ length: options.history(random) }, make);
    const heldOut = Array.from({ length: options.heldOut }, () => make().made);
    const told = options.withOracle ? tellTruth(team) : null;
    seen.push(...askAll(team, history, heldOut, told));
  }
  const at = (moment: keyof typeof MOMENTS) =>
    toFigures(seen.filter((ask) => ask.moment === moment));
  return {
    start: at('start'),
    third: at('third'),
    twoThirds: at('twoThirds'),
    thirdOfActual: at('thirdOfActual'),
    twoThirdsOfActual: at('twoThirdsOfActual'),
  };
}

/** One case, with the alternatives that it took. */
interface Stopping {
  readonly made: MadeCase;
  readonly taken: readonly string[];
}

function makeStopping(
  team: readonly PhasePlan[],
  random: Random,
  { paceSigma, earlyStop }: Pick<Parameters<typeof tryForecast>[0], 'paceSigma' | 'earlyStop'>,
): Stopping {
  const made = makeCase(team, random, paceSigma);
  const isStopped = earlyStop !== undefined && random.uniform() < earlyStop.chance;
  if (!isStopped) return { made, taken: [] };
  const kept = team.slice(0, earlyStop.after).map(({ id }) => id);
  return { made: made.filter(({ id }) => kept.includes(id)), taken: [STOPPED] };
}

interface Ask {
  readonly moment: keyof typeof MOMENTS;
  readonly isHeld: boolean;
  readonly error: number;
  readonly errorOfUsual: number;
  readonly errorOfOwnMean: number;
  readonly errorOfOracle: number | null;
}

function askAll(
  team: readonly PhasePlan[],
  history: readonly Stopping[],
  heldOut: readonly MadeCase[],
  told: Team | null,
): readonly Ask[] {
  const digests = history.map(({ made, taken }, place) => ({
    ...digestOf(made, place),
    alternatives: taken,
  }));
  const learnt = learnTeam(outlineOf(team), digests);
  if (!learnt) throw new Error('This team says nothing');
  const usual = team.reduce((sum, { usualMin }) => sum + (usualMin ?? 0), 0);
  const ownMean = mean(history.map(({ made }) => totalMin(made))) ?? usual;
  return heldOut.flatMap((made) => {
    const total = totalMin(made);
    return Object.entries(MOMENTS).flatMap(([moment, { share, of }]): Ask[] => {
      const elapsed = share * (of === 'actual' ? total : ownMean);
      if (elapsed >= total) return []; // Over before it could be asked.
      const standing = standingAt(made, team, elapsed);
      const inPass = standing.current ? standing.nowMs - standing.current.sinceMs : 0;
      const left = new RestOfCase(learnt, standing, 7, 300).left(inPass);
      const trueLeft = total - elapsed;
      const best = told && new RestOfCase(told, standing, 7, 2000).left(inPass);
      return [
        {
          moment: moment as keyof typeof MOMENTS,
          isHeld: left.lowMs <= trueLeft * MINUTE_MS && trueLeft * MINUTE_MS <= left.highMs,
          error: Math.abs(left.medianMs / MINUTE_MS - trueLeft),
          errorOfUsual: Math.abs(Math.max(0, usual - elapsed) - trueLeft),
          errorOfOwnMean: Math.abs(Math.max(0, ownMean - elapsed) - trueLeft),
          errorOfOracle: best && Math.abs(best.medianMs / MINUTE_MS - trueLeft),
        },
      ];
    });
  });
}

function toFigures(asks: readonly Ask[]): TrialFigures {
  const meanOf = (of: (ask: Ask) => number) => mean(asks, of) ?? Number.NaN;
  return {
    asked: asks.length,
    held: meanOf(({ isHeld }) => (isHeld ? 1 : 0)),
    error: meanOf(({ error }) => error),
    errorOfUsual: meanOf(({ errorOfUsual }) => errorOfUsual),
    errorOfOwnMean: meanOf(({ errorOfOwnMean }) => errorOfOwnMean),
    errorOfOracle: mean(asks, ({ errorOfOracle }) => errorOfOracle) ?? null,
  };
}

/** Nobody has so many cases: beliefs that are worth them are the truth. */
const CERTAIN = 1e9;

/** A team whose beliefs are the true laws. The median of what it then says is the best there is under absolute error. */
export function tellTruth(team: readonly PhasePlan[]): Team {
  const phases = team.map(({ id, medianMin, sigma }) => {
    const mu = Math.log(medianMin * MINUTE_MS);
    const law = { mu, weight: CERTAIN, variance: sigma ** 2, freedom: CERTAIN, cases: CERTAIN };
    return { phase: asId<PhaseId>(id), title: id, first: law, again: law, againChance: 0 }; // prettier-ignore
  });
  return { phases, ways: [], paceVariance: 0, paceDoubt: 0, caseCount: CERTAIN, hasUsual: true };
}
