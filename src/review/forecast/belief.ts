/**
 * What is believed about the logarithm of one duration: a normal with unknown mean and
 * spread, held as normal-inverse-gamma (Gelman et al., Bayesian Data Analysis, 3rd
 * ed., 3.3). It begins from a person's "usual" time and gives way to cases as they
 * come, so a team's own figures and an expert's are blended by their weight.
 */
import { deviation, mean } from 'd3-array';

/** Believed: mean `mu` worth `weight` cases, variance `variance` worth `freedom` cases. */
export interface Belief {
  readonly mu: number;
  readonly weight: number;
  readonly variance: number;
  readonly freedom: number;
  /** How many cases it has seen. */
  readonly cases: number;
}

/**
 * How much a person's usual time counts for, in cases. Small, because five cases of the
 * team know more; not nought, because the first case must be told something.
 */
const EXPERT_WEIGHT = 2;
/** Spread of a phase on log scale before any case: published intervals of shoulder operations lie mostly between 0.15 and 0.24. */
const EXPERT_SIGMA = 0.23;
/** How many cases that spread counts for. */
const EXPERT_FREEDOM = 4;

/** What is believed before any case. `medianMs` is what a person called usual. */
export function believeExpert(medianMs: number): Belief {
  return {
    mu: Math.log(medianMs),
    weight: EXPERT_WEIGHT,
    variance: EXPERT_SIGMA ** 2,
    freedom: EXPERT_FREEDOM,
    cases: 0,
  };
}

/**
 * What is believed after cases, from logarithms of their durations. `shared` is the part
 * of their variance that belongs to the whole case and is counted elsewhere.
 */
export function learn(before: Belief, logs: readonly number[], shared = 0): Belief {
  const count = logs.length;
  if (count === 0) return before;
  const centre = mean(logs) ?? before.mu;
  const all = (deviation(logs) ?? 0) ** 2;
  const own = Math.max(all - shared, all * OWN_AT_LEAST);
  const weight = before.weight + count;
  const freedom = before.freedom + count;
  const pull = (before.weight * count * (centre - before.mu) ** 2) / weight;
  return {
    mu: (before.weight * before.mu + count * centre) / weight,
    weight,
    variance: (before.freedom * before.variance + (count - 1) * own + pull) / freedom,
    freedom,
    cases: before.cases + count,
  };
}

/** Of the variance of a phase, at least this share is its own. */
const OWN_AT_LEAST = 0.3;

/** What is believed without a usual time, from cases alone; null below two. */
export function believeCases(logs: readonly number[], shared = 0): Belief | null {
  const [first] = logs;
  if (first === undefined || logs.length < 2) return null;
  const centre = mean(logs) ?? first;
  // The expert's place is taken by the cases' own mean, at next to no weight.
  return learn({ ...believeExpert(Math.exp(centre)), weight: 1e-6 }, logs, shared);
}
