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
    // A blank before, between and after the targets.
    const row = Array.from({ length: 2 * targets.length + 1 }, (_, at) =>
      at % 2 === 0 ? 0 : (targets[(at - 1) / 2] ?? 0),
    );
    // Before the first step a path stands in front of the first blank or the first target.
    let before = Float64Array.from(row, (_, at) => (at === 0 ? 1 : 0));
    let now = new Float64Array(row.length);
    let log = 0;
    for (let step = 0; step < this.#steps; step += 1) {
      const sum = this.#advance(row, before, now, step);
      if (sum <= 0) return -Infinity;
      log += Math.log(sum);
      [before, now] = [now, before];
    }
    return log + Math.log((before.at(-1) ?? 0) + (before.at(-2) ?? 0));
  }

  /** One step: fills `now` with the share of each place, and gives how likely the step was. */
  #advance(row: readonly number[], before: Float64Array, now: Float64Array, step: number): number {
    const from = step * this.#classes;
    let sum = 0;
    for (let at = 0; at < row.length; at += 1) {
      const target = row[at] ?? 0;
      let share = (before[at] ?? 0) + (before[at - 1] ?? 0);
      // A blank may be left out between two different targets.
      if (target !== 0 && target !== row[at - 2]) share += before[at - 2] ?? 0;
      now[at] = share * (this.#p[from + target] ?? 0);
      sum += now[at] ?? 0;
    }
    for (let at = 0; at < row.length; at += 1) now[at] = (now[at] ?? 0) / sum;
    return sum;
  }
}
