/** What a text model says may come next at each place of its texts. */

/** Numbers in the vocabulary, and so in each row of scores. */
const VOCABULARY = 32_768;
/** What is less likely than the likeliest by e to this power counts for nothing: all of them together are below 1 in 10,000. */
const FAR_BELOW = 20;

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
    const total = logOfSum(this.scores.subarray(row * VOCABULARY, (row + 1) * VOCABULARY));
    this.#totals.set(row, total);
    return total;
  }
}

/** Log of the sum of exponentials. */
function logOfSum(scores: Float32Array): number {
  let most = -Infinity;
  for (const score of scores) if (score > most) most = score;
  const least = most - FAR_BELOW;
  let sum = 0;
  for (const score of scores) if (score > least) sum += Math.exp(score - most);
  return most + Math.log(sum);
}
