/**
 * Self-starting standardisation (Hawkins 1987, The Statistician 36:299; Hawkins & Olwell
 * 1998, chapter 7): each value is held against the mean and spread of all before it. For
 * a steady normal series the results are independent standard normals whatever the
 * centre and spread are, so that a CUSUM of them keeps its run length from the first
 * value it judges: there is no baseline whose error would be carried along.
 */
import { normalQuantile } from './normal';
import { studentCdf } from './student';

/** Beyond this many sigmas probabilities are no longer told apart from nought or one. */
const FARTHEST = 8;

/** One a value; null for the first `reference` values (at least two), which are only held against. */
export function standardiseAgainstEarlier(
  values: readonly number[],
  reference: number,
): readonly (number | null)[] {
  let count = 0;
  let mean = 0;
  let squares = 0;
  return values.map((value) => {
    const judged = count < Math.max(2, reference) ? null : scoreOf(value, count, mean, squares);
    // Welford's update: no two large sums are taken from each other.
    count += 1;
    const before = value - mean;
    mean += before / count;
    squares += before * (value - mean);
    return judged;
  });
}

/** The value's place in Student's distribution of what `count` values before it lead to expect, as a normal deviate. */
function scoreOf(value: number, count: number, mean: number, squares: number): number {
  const spread = Math.sqrt(squares / (count - 1));
  if (!(spread > 0)) return 0;
  const t = (value - mean) / (spread * Math.sqrt(1 + 1 / count));
  const far = normalQuantile(studentCdf(-Math.abs(t), count - 1));
  return -Math.sign(t) * Math.max(-FARTHEST, far);
}
