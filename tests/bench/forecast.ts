/**
 * `npm run bench -- forecast`: the forecast against cases it has not seen, of synthetic
 * teams and of teams made from published shoulder intervals. docs/forecast.md has the figures.
 */
import { fitMoments } from '../../src/review/statistics/lognormal';
import type { Random } from '../../src/review/statistics/random';
import { tryForecast } from '../review/forecast-trial';
import type { Trial } from '../review/forecast-trial';
import { makeTeam } from '../review/synthetic-team';
import type { PhasePlan } from '../review/synthetic-team';

/**
 * Padegimas et al. 2019, J Shoulder Elbow Surg (PMID 30241986): patient in to incision,
 * incision to closed, closed to out; minutes, mean and deviation, 136 cases each.
 */
const PUBLISHED = {
  specialty: [39.2, 8.0, 110.0, 26.6, 7.6, 3.8],
  referral: [46.3, 8.8, 113.4, 28.7, 11.2, 4.7],
} as const;

/** The team of a published table; what it calls usual is the other hospital's mean. */
export function publishedTeam(name: keyof typeof PUBLISHED): () => readonly PhasePlan[] {
  const other = PUBLISHED[name === 'specialty' ? 'referral' : 'specialty'];
  return () =>
    ['prepare', 'operate', 'leave'].map((id, index) => {
      const law = fitMoments(PUBLISHED[name][index * 2] ?? 0, PUBLISHED[name][index * 2 + 1] ?? 0);
      return {
        id,
        usualMin: other[index * 2] ?? null,
        medianMin: Math.exp(law.mu),
        sigma: law.sigma,
        again: 0,
        missing: 0,
      };
    });
}

/** From a handful of cases to a year of them. */
export const SOME_HISTORY = (random: Random) => 5 + random.below(56);

export function benchForecast(): Readonly<Record<string, Trial>> {
  const teams = { teams: 50, heldOut: 12, makeTeam };
  return {
    'synthetic teams, 5 to 60 earlier cases': tryForecast({
      seed: 1,
      ...teams,
      history: SOME_HISTORY,
    }),
    'synthetic teams, no earlier case': tryForecast({ seed: 2, ...teams, history: () => 0 }),
    'synthetic teams, 3 earlier cases': tryForecast({ seed: 3, ...teams, history: () => 3 }),
    'synthetic teams, 60 earlier cases': tryForecast({ seed: 4, ...teams, history: () => 60 }),
    'synthetic teams, phases independent': tryForecast({
      seed: 5,
      ...teams,
      history: SOME_HISTORY,
      paceSigma: 0,
    }),
    'synthetic teams, three in ten cases stopped after the second phase': tryForecast({
      seed: 8,
      ...teams,
      history: SOME_HISTORY,
      earlyStop: { after: 2, chance: 0.3 },
    }),
    'published, specialty hospital': tryForecast({
      seed: 6,
      teams: 250,
      heldOut: 12,
      history: SOME_HISTORY,
      makeTeam: publishedTeam('specialty'),
      paceSigma: 0,
      withOracle: true,
    }),
    'published, referral centre': tryForecast({
      seed: 7,
      teams: 250,
      heldOut: 12,
      history: SOME_HISTORY,
      makeTeam: publishedTeam('referral'),
      paceSigma: 0,
      withOracle: true,
    }),
  };
}
