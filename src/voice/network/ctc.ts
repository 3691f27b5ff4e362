/**
 * How likely is a row of words or sounds, given what a network heard in each step:
 * connectionist temporal classification (Graves et al., ICML 2006), the forward pass,
 * rescaled now and then. Class 0 is the blank. Pure.
 */

/** Log-probabilities of all classes, one row after another. */
export interface StepScores {
  readonly data: Float32Array;
  readonly steps: number;
  readonly classes: number;
}

/** After how many steps are the shares brought back to one? A 32-bit probability is at least 1e-45: four leave room. */
const RESCALED_EACH = 4;

/** Probabilities in each step, made once for many rows of targets. */
export class CtcScorer {
  readonly #p: Float32Array;
  readonly #steps: number;
  readonly #classes: number;
  /** Log-likelihood of the likeliest path of all: what any row of targets is measured against. */
  readonly best: number;
  /** How many targets the likeliest path of all names. */
  readonly named: number;

  constructor({ data, steps, classes }: StepScores) {
    this.#p = data.map(Math.exp);
    this.#steps = steps;
    this.#classes = classes;
    let [best, named, before] = [0, 0, 0];
    for (let step = 0; step < steps; step += 1) {
      let [most, likeliest] = [-Infinity, 0];
      for (let k = 0; k < classes; k += 1) {
        const log = data[step * classes + k] ?? 0;
        if (log > most) [most, likeliest] = [log, k];
      }
      best += most;
      if (likeliest !== 0 && likeliest !== before) named += 1;
      before = likeliest;
    }
    this.best = best;
    this.named = named;
  }

  /** Natural log of the probability of these targets; -Infinity where they do not fit in the time. */
  logLikelihood(targets: readonly number[]): number {
    const row = withBlanks(targets);
    let before = new Float64Array(row.classes.length);
    let now = new Float64Array(row.classes.length);
    // Before the first step a path stands in front of the first blank or the first target.
    before[0] = 1;
    let log = 0;
    for (let step = 0; step < this.#steps; step += 1) {
      this.#advance(row, before, now, step * this.#classes);
      [before, now] = [now, before];
      if (step % RESCALED_EACH === 0) log += rescale(before);
    }
    return log + Math.log((before.at(-1) ?? 0) + (before.at(-2) ?? 0));
  }

  /** Natural log of the probability that it begins with these targets, whatever comes after; 0 for none. */
  logBeginning(targets: readonly number[]): number {
    if (targets.length === 0) return 0;
    const row = withBlanks(targets);
    // Who has reached the last target stays there: all that may follow is certain together.
    const last = row.classes.length - 2;
    let before = new Float64Array(last + 1);
    let now = new Float64Array(last + 1);
    before[0] = 1;
    let log = 0;
    for (let step = 0; step < this.#steps; step += 1) {
      const arrived = before[last] as number;
      before[last] = 0;
      this.#advance(row, before, now, step * this.#classes);
      now[last] = (now[last] as number) + arrived;
      [before, now] = [now, before];
      if (step % RESCALED_EACH === 0) log += rescale(before);
    }
    return log + Math.log(before[last] as number);
  }

  /** One step, whose probabilities begin at `from`: fills `now` with what stands at each place. */
  #advance({ classes, canSkip }: Row, before: Float64Array, now: Float64Array, from: number): void {
    const p = this.#p;
    for (let at = 0; at < now.length; at += 1) {
      let share = before[at] as number;
      if (at > 0) share += before[at - 1] as number;
      if (canSkip[at] === 1) share += before[at - 2] as number;
      now[at] = share * (p[from + (classes[at] as number)] as number);
    }
  }
}

/** A row of targets with a blank before, between and after them. */
interface Row {
  readonly classes: Int32Array;
  /** 1 where the blank before may be left out: between two different targets. */
  readonly canSkip: Uint8Array;
}

function withBlanks(targets: readonly number[]): Row {
  const classes = new Int32Array(2 * targets.length + 1);
  const canSkip = new Uint8Array(classes.length);
  targets.forEach((target, index) => {
    classes[2 * index + 1] = target;
    if (index > 0 && target !== targets[index - 1]) canSkip[2 * index + 1] = 1;
  });
  return { classes, canSkip };
}

/** Brings the shares back to a sum of one, and gives the log of what it was: they would get too small. */
function rescale(shares: Float64Array): number {
  const sum = shares.reduce((a, b) => a + b, 0);
  if (sum <= 0) return -Infinity;
  for (let at = 0; at < shares.length; at += 1) shares[at] = (shares[at] as number) / sum;
  return Math.log(sum);
}
