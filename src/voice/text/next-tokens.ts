/** What a text model says may come next at each place of its texts. */

/** Numbers in the vocabulary, and so in each row of scores. */
const VOCABULARY = 32_768;
/** What is less likely than the likeliest by e to this power counts for nothing: were it all of the vocabulary, the log would be off by 0.004. */
const FAR_BELOW = 16;

/** Scores of one run, a row of the whole vocabulary for each place. */
export class NextTokens {
  /** By row: the log of the sum over its vocabulary; worked out where it is asked for. */
  readonly #totals = new Map<number, number>();

  constructor(private readonly scores: Float32Array) {}

  /** Natural log of how likely this token is next at this place. */
  logOf(row: number, token: number): number {
    return (this.scores[row * VOCABULARY + token] ?? -Infinity) - this.#total(row);
  }

  #total(row: number): number {
    const known = this.#totals.get(row);
    if (known !== undefined) return known;
    const total = logOfSum(this.scores, row * VOCABULARY, (row + 1) * VOCABULARY);
    this.#totals.set(row, total);
    return total;
  }
}

/** Log of the sum of exponentials from one index to before another. Counted by index: some eight times as fast as by iterator. */
function logOfSum(scores: Float32Array, from: number, to: number): number {
  let most = -Infinity;
  for (let index = from; index < to; index += 1) most = Math.max(most, scores[index] ?? most);
  let sum = 0;
  for (let index = from; index < to; index += 1) {
    const below = (scores[index] ?? most) - most;
    if (below > -FAR_BELOW) sum += Math.exp(below);
  }
  return most + Math.log(sum);
}
