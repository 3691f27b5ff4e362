/**
 * What is left of a case, by simulation with a fixed seed. Each draw is one way the
 * rest may go: the way it takes, the pace of this case (from the phases already done), the phase in
 * hand given that it has lasted this long, further passes, and every phase ahead
 * that occurs. Draws in which the phase would long be over are weighed out.
 */
import { normalQuantile, normalUpperQuantile, normalUpperTail } from '../statistics/normal';
import { createRandom } from '../statistics/random';
import type { Random } from '../statistics/random';
import type { Belief } from './belief';
import type { Standing } from './standing';
import type { PhaseBelief, Team } from './team';
import { wayAt, weighWays } from './ways';
import type { Way } from './ways';

/** What is left, in milliseconds from now: median and the bounds that hold four cases of five. */
export interface Left {
  readonly medianMs: number;
  readonly lowMs: number;
  readonly highMs: number;
}

/** Enough that another seed moves the median of an hour by less than a minute. */
const DRAWS = 600;
/** No case does a phase more often than this. */
const MOST_PASSES = 8;

interface Draw {
  /** Law of the pass in hand. */
  readonly mu: number;
  readonly sigma: number;
  /** Share of the survivors at which this draw's pass ends. */
  readonly share: number;
  /** Everything after the pass in hand. */
  readonly restMs: number;
}

/** The rest of one case, seen from one standing. Asked again as time goes by, it uses the same draws, so it moves smoothly. */
export class RestOfCase {
  readonly #draws: readonly Draw[];

  constructor(
    team: Team,
    private readonly standing: Standing,
    seed: number,
    draws = DRAWS,
  ) {
    const random = createRandom(seed);
    const ways = weighWays(team.ways, standing);
    this.#draws = Array.from({ length: draws }, (_, place) =>
      drawRest(team, standing, wayAt(ways, (place + 0.5) / draws), random),
    );
  }

  /** What is left when the pass in hand has lasted `elapsedMs`. */
  left(elapsedMs: number): Left {
    const { current } = this.standing;
    if (!current || elapsedMs <= 0) {
      return weightedLeft(
        this.#draws.map((draw) => ({
          ms:
            draw.restMs +
            (current ? Math.exp(draw.mu + draw.sigma * normalUpperQuantile(draw.share)) : 0),
          weight: 1,
        })),
      );
    }
    const ways = this.#draws.map((draw) => outlive(draw, elapsedMs));
    const weights = spreadWeights(ways.map(({ logAlive }) => logAlive));
    return weightedLeft(ways.map(({ ms }, index) => ({ ms, weight: weights[index] ?? 0 })));
  }
}

/** Beyond this many sigmas the tail is taken as exponential: the quantile would lose its digits. */
const FAR_OUT = 7;

/** One draw, given that its pass has lasted this long: what is left, and how likely that was. */
function outlive(
  { mu, sigma, share, restMs }: Draw,
  elapsedMs: number,
): { readonly ms: number; readonly logAlive: number } {
  const z = (Math.log(elapsedMs) - mu) / sigma;
  if (z > FAR_OUT) {
    const ms = elapsedMs * Math.expm1((sigma * -Math.log(share)) / z);
    return { ms: ms + restMs, logAlive: (-z * z) / 2 - Math.log(z) };
  }
  const alive = normalUpperTail(z);
  const endMs = Math.exp(mu + sigma * normalUpperQuantile(alive * share));
  return { ms: Math.max(0, endMs - elapsedMs) + restMs, logAlive: Math.log(alive) };
}

/** A forecast that rests on fewer draws than this would be one draw's opinion. */
const LEAST_EFFECTIVE = 40;

/**
 * Weights of the draws. Far beyond every earlier case nearly all weight falls on one
 * draw; it is then flattened until enough draws have a say (tempering).
 */
function spreadWeights(logs: readonly number[]): readonly number[] {
  const highest = Math.max(...logs);
  for (let power = 1; ; power /= 2) {
    const weights = logs.map((log) => Math.exp(power * (log - highest)));
    const sum = weights.reduce((total, weight) => total + weight, 0);
    const squares = weights.reduce((total, weight) => total + weight * weight, 0);
    if ((sum * sum) / squares >= LEAST_EFFECTIVE || power < 1e-9) return weights;
  }
}

function weightedLeft(ways: { readonly ms: number; readonly weight: number }[]): Left {
  const whole = ways.reduce((sum, { weight }) => sum + weight, 0);
  const sorted = ways.toSorted((a, b) => a.ms - b.ms);
  const at = (share: number) => {
    let sum = 0;
    return sorted.find(({ weight }) => (sum += weight / whole) >= share)?.ms ?? 0;
  };
  return { medianMs: at(0.5), lowMs: at(0.1), highMs: at(0.9) };
}

function drawRest(
  team: Team,
  { done, current, ahead }: Standing,
  chances: Way['chances'],
  random: Random,
): Draw {
  const believed = new Map(team.phases.map((phase) => [phase.phase as string, phase]));
  const behind = [
    ...done,
    ...(current?.firstMs ? [{ phase: current.phase, firstMs: current.firstMs }] : []),
  ];
  const pace = drawPace(team, behind, believed, random);
  const here = current && believed.get(current.phase);
  const law = here ? drawLaw(current.pass > 1 ? here.again : here.first, pace, random) : null;
  const share = random.uniform();
  let restMs = here ? drawMore(here, current.pass, pace, random) : 0;
  for (const id of ahead) {
    const phase = believed.get(id);
    if (!phase || random.uniform() > (chances.get(id) ?? 1)) continue;
    const { mu, sigma } = drawLaw(phase.first, pace, random);
    restMs += Math.exp(mu + sigma * random.normal()) + drawMore(phase, 1, pace, random);
  }
  return { mu: law?.mu ?? 0, sigma: law?.sigma ?? 1, share, restMs };
}

/** Further passes after this one. */
function drawMore(
  { again, againChance }: PhaseBelief,
  pass: number,
  pace: number,
  random: Random,
): number {
  let ms = 0;
  for (let next = pass; next < MOST_PASSES && random.uniform() < againChance; next += 1) {
    const { mu, sigma } = drawLaw(again, pace, random);
    ms += Math.exp(mu + sigma * random.normal());
  }
  return ms;
}

/** A law that the belief allows: spread from its inverse chi-square, then mean given the spread. */
function drawLaw(
  { mu, weight, variance, freedom }: Belief,
  pace: number,
  random: Random,
): { readonly mu: number; readonly sigma: number } {
  const sigma = Math.sqrt((variance * freedom) / drawChiSquare(freedom, random));
  return { mu: mu + pace + (sigma / Math.sqrt(weight)) * random.normal(), sigma };
}

/** Wilson & Hilferty 1931: the cube root of chi-square is nearly normal; exact enough from five degrees up. */
function drawChiSquare(freedom: number, random: Random): number {
  const ninth = 2 / (9 * freedom);
  const root = 1 - ninth + normalQuantile(random.uniform()) * Math.sqrt(ninth);
  return freedom * Math.max(0.02, root) ** 3;
}

/** The pace of this case, given how its finished phases went: normal prior, normal evidence. */
function drawPace(
  { paceVariance, paceDoubt }: Team,
  behind: readonly { readonly phase: string; readonly firstMs: number }[],
  believed: ReadonlyMap<string, PhaseBelief>,
  random: Random,
): number {
  const prior = paceVariance + paceDoubt;
  if (prior <= 0) return 0;
  let precision = 1 / prior;
  let pull = 0;
  for (const { phase, firstMs } of behind) {
    const belief = believed.get(phase)?.first;
    if (!belief || firstMs < 1000) continue;
    const variance = belief.variance * (1 + 1 / belief.weight);
    // One delayed phase says little about the others: its pull is bounded (Huber).
    const away = (Math.log(firstMs) - belief.mu) / Math.sqrt(variance);
    const bounded = Math.max(-2, Math.min(2, away)) * Math.sqrt(variance);
    precision += 1 / variance;
    pull += bounded / variance;
  }
  return pull / precision + random.normal() / Math.sqrt(precision);
}
