/**
 * How likely is a row of words or sounds, given what a network heard in each step:
 * connectionist temporal classification (Graves et al., ICML 2006), the forward pass,
 * rescaled in each step. Class 0 is the blank. Pure.
 */

/** Log-probabilities of all classes, one row after another. */
export interface StepScores {
  readonly data: Float32Array;
  readonly steps: number;
  readonly classes: number;
}

/** Probabilities in each step, made once for many rows of targets. */
export class CtcScorer {
  readonly #p: Float32Array;
  readonly #steps: number;
  readonly #classes: number;
  /** Log-likelihood of the likeliest path of all: what any row of targets is measured against. */
  readonly best: number;

  constructor({ data, steps, classes }: StepScores) {
    this.#p = data.map(Math.exp);
    this.#steps = steps;
    this.#classes = classes;
    let best = 0;
    for (let step = 0; step < steps; step += 1) {
      let most = -Infinity;
      for (let k = 0; k < classes; k += 1) most = Math.max(most, data[step * classes + k] ?? 0);
      best += most;
    }
    this.best = best;
  }

  /** Natural log of the probability of these targets; -Infinity where they do not fit in the time. */
  logLikelihood(targets: readonly number[]): number {
    const places = 2 * targets.length + 1;
    let before = new Float64Array(places);
    let now = new Float64Array(places);
    before[0] = 1;
    let log = 0;
    for (let step = 0; step < this.#steps; step += 1) {
      const row = step * this.#classes;
      const blank = this.#p[row] ?? 0;
      // In the first step only the first blank and the first target can be.
      const last = step === 0 ? Math.min(2, places) : places;
      let sum = 0;
      now.fill(0);
      for (let at = 0; at < last; at += 1) {
        const isBlank = at % 2 === 0;
        const target = targets[(at - 1) / 2] ?? 0;
        let from = before[at] ?? 0;
        if (at > 0) from += before[at - 1] ?? 0;
        if (!isBlank && at > 2 && targets[(at - 3) / 2] !== target) from += before[at - 2] ?? 0;
        if (step === 0) from = 1;
        const value = from * (isBlank ? blank : (this.#p[row + target] ?? 0));
        now[at] = value;
        sum += value;
      }
      if (sum <= 0) return -Infinity;
      for (let at = 0; at < places; at += 1) now[at] = (now[at] ?? 0) / sum;
      log += Math.log(sum);
      [before, now] = [now, before];
    }
    return log + Math.log((before[places - 1] ?? 0) + (before[places - 2] ?? 0));
  }
}
