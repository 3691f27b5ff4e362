/**
 * How long a CUSUM runs before it signals, on average: the figure by which a design
 * is stated. Markov chain of Brook & Evans 1972 (Biometrika 59:539) for each side;
 * the two sides together by Kemp's formula 1/ARL = 1/ARL⁺ + 1/ARL⁻. The other way
 * round, from a run length to a limit, by Siegmund's approximation (Sequential
 * Analysis, 1985), which is good to a few in a hundred and costs nothing.
 */
import { normalCdf } from './normal';

/** Steps into which the sum between 0 and h is divided; 120 gives four digits. */
const STATES = 120;

/** Average run length of a two-sided CUSUM. All in sigmas: allowance k, limit h, shift of the mean. */
export function averageRunLength(k: number, h: number, shift = 0): number {
  return 1 / (1 / oneSided(k, h, shift) + 1 / oneSided(k, h, -shift));
}

/** The limit h of a two-sided CUSUM that signals every `cases` in-control cases, on average. All in sigmas. */
export function limitForRunLength(k: number, cases: number): number {
  let low = 0;
  let high = HIGHEST_LIMIT;
  for (let halving = 0; halving < 40; halving += 1) {
    const middle = (low + high) / 2;
    if (approximateRunLength(k, middle) < cases) low = middle;
    else high = middle;
  }
  return high;
}

/** Beyond any limit that is asked for. */
const HIGHEST_LIMIT = 60;

/** Siegmund: the limit is taken 1.166 sigmas higher, for what a sum overshoots. */
function approximateRunLength(k: number, h: number): number {
  const reach = 2 * k * (h + 1.166);
  return (Math.expm1(reach) - reach) / (2 * k * k) / 2;
}

function oneSided(k: number, h: number, shift: number): number {
  const width = (2 * h) / (2 * STATES - 1);
  // (I − Q) L = 1, where Q says how the sum moves between its steps.
  const rows = Array.from({ length: STATES }, (_, i) => {
    const row = Array.from({ length: STATES + 1 }, (__, j) => {
      if (j === STATES) return 1;
      const drift = k - shift;
      const upper = normalCdf((j - i + 0.5) * width + drift);
      const lower = j === 0 ? 0 : normalCdf((j - i - 0.5) * width + drift);
      return (i === j ? 1 : 0) - (upper - lower);
    });
    return row;
  });
  return solveFirst(rows);
}

/** The first unknown of a linear system, by elimination from the last row up. Pivots are never small: Q is substochastic. */
function solveFirst(rows: readonly (readonly number[])[]): number {
  const size = rows.length;
  const work = rows.map((row) => Float64Array.from(row));
  for (let last = size - 1; last > 0; last -= 1) {
    const pivot = work[last] as Float64Array;
    for (const row of work.slice(0, last)) {
      const factor = at(row, last) / at(pivot, last);
      for (let column = 0; column < last; column += 1)
        row[column] = at(row, column) - factor * at(pivot, column);
      row[size] = at(row, size) - factor * at(pivot, size);
    }
  }
  const [first] = work;
  return first ? at(first, size) / at(first, 0) : Number.NaN;
}

function at(row: Float64Array, column: number): number {
  return row[column] as number;
}
