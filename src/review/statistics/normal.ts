/**
 * The standard normal distribution: what the lognormal durations, the forecast and
 * the control limits are computed with. Tails keep their relative accuracy, because
 * a forecast asks about cases that have already lasted unusually long.
 */

const SQRT_TWO_PI = Math.sqrt(2 * Math.PI);
/** From here on the continued fraction is the more exact of the two ways. */
const TAIL_FROM = 3;
/** Terms that bring the continued fraction at 3 to the last digit of a double. */
const TAIL_TERMS = 60;

/** P(Z > x). */
export function normalUpperTail(x: number): number {
  return x < 0 ? 1 - normalUpperTail(-x) : x < TAIL_FROM ? 0.5 - halfMass(x) : tail(x);
}

/** P(Z <= x). */
export function normalCdf(x: number): number {
  return normalUpperTail(-x);
}

/** Φ(x) − ½ by its power series (Marsaglia 2004, "Evaluating the Normal Distribution"). */
function halfMass(x: number): number {
  let term = x;
  let sum = x;
  for (let k = 3; term > sum * 1e-17; k += 2) {
    term *= (x * x) / k;
    sum += term;
  }
  return (sum * Math.exp((-x * x) / 2)) / SQRT_TWO_PI;
}

/** Laplace's continued fraction for the upper tail. */
function tail(x: number): number {
  let fraction = x;
  for (let k = TAIL_TERMS; k > 0; k -= 1) fraction = x + k / fraction;
  return Math.exp((-x * x) / 2) / SQRT_TWO_PI / fraction;
}

/** Wichura 1988, algorithm AS 241 (PPND16), Applied Statistics 37:477. Highest power first. */
const CENTRE = {
  over: [
    2509.0809287301226727, 33430.575583588128105, 67265.770927008700853, 45921.953931549871457,
    13731.693765509461125, 1971.5909503065514427, 133.14166789178437745, 3.387132872796366608,
  ],
  under: [
    5226.495278852854561, 28729.085735721942674, 39307.89580009271061, 21213.794301586595867,
    5394.1960214247511077, 687.1870074920579083, 42.313330701600911252, 1,
  ],
} as const; // prettier-ignore
const NEAR = {
  over: [
    7.7454501427834140764e-4, 0.0227238449892691845833, 0.24178072517745061177, 1.27045825245236838258,
    3.64784832476320460504, 5.7694972214606914055, 4.6303378461565452959, 1.42343711074968357734,
  ],
  under: [
    1.05075007164441684324e-9, 5.475938084995344946e-4, 0.0151986665636164571966, 0.14810397642748007459,
    0.68976733498510000455, 1.6763848301838038494, 2.05319162663775882187, 1,
  ],
} as const; // prettier-ignore
const FAR = {
  over: [
    2.01033439929228813265e-7, 2.71155556874348757815e-5, 0.0012426609473880784386, 0.026532189526576123093,
    0.29656057182850489123, 1.7848265399172913358, 5.4637849111641143699, 6.6579046435011037772,
  ],
  under: [
    2.04426310338993978564e-15, 1.4215117583164458887e-7, 1.8463183175100546818e-5, 7.868691311456132591e-4,
    0.0148753612908506148525, 0.13692988092273580531, 0.59983220655588793769, 1,
  ],
} as const; // prettier-ignore

/** z with P(Z <= z) = p, for 0 < p < 1; infinite at the ends. */
export function normalQuantile(p: number): number {
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return q * ratio(CENTRE, r);
  }
  const outside = Math.min(p, 1 - p);
  if (outside <= 0) return p <= 0 ? -Infinity : Infinity;
  const r = Math.sqrt(-Math.log(outside));
  return Math.sign(q) * (r <= 5 ? ratio(NEAR, r - 1.6) : ratio(FAR, r - 5));
}

/** The same from the upper tail, which keeps its digits where the tail is tiny. */
export function normalUpperQuantile(upperTail: number): number {
  return -normalQuantile(upperTail);
}

function ratio(
  { over, under }: { readonly over: readonly number[]; readonly under: readonly number[] },
  x: number,
): number {
  const value = (powers: readonly number[]) => powers.reduce((sum, factor) => sum * x + factor, 0);
  return value(over) / value(under);
}
