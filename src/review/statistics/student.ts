/**
 * Student's t distribution, for prediction bounds and for the uncertainty of a fitted
 * line. Degrees of freedom may be any positive number.
 */

/** Lanczos' coefficients for g = 7, nine terms. */
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
] as const; // prettier-ignore
const MOST_STEPS = 300;
const CLOSE_ENOUGH = 1e-15;

/** P(T <= t) with the given degrees of freedom. */
export function studentCdf(t: number, freedom: number): number {
  const outside = incompleteBeta(freedom / (freedom + t * t), freedom / 2, 0.5) / 2;
  return t > 0 ? 1 - outside : outside;
}

/** t with P(T <= t) = p. Bisection: every step halves what is left, and nothing can diverge. */
export function studentQuantile(p: number, freedom: number): number {
  if (p === 0.5) return 0;
  if (p < 0.5) return -studentQuantile(1 - p, freedom);
  let low = 0;
  let high = 1;
  while (studentCdf(high, freedom) < p && high < 1e12) high *= 2;
  for (let step = 0; step < MOST_STEPS && high - low > CLOSE_ENOUGH * high; step += 1) {
    const middle = (low + high) / 2;
    if (studentCdf(middle, freedom) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Regularised incomplete beta function, by its continued fraction (Lentz's method). */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(
    logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x),
  );
  return (front / a) * betaFraction(x, a, b);
}

function betaFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / awayFromZero(1 - ((a + b) * x) / (a + 1));
  let product = d;
  for (let m = 1; m < MOST_STEPS; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / awayFromZero(1 + even * d);
    c = awayFromZero(1 + even / c);
    product *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / awayFromZero(1 + odd * d);
    c = awayFromZero(1 + odd / c);
    const change = d * c;
    product *= change;
    if (Math.abs(change - 1) < CLOSE_ENOUGH) break;
  }
  return product;
}

function awayFromZero(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}

/** ln Γ(x) for x > 0. */
function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const [first, ...rest] = LANCZOS;
  const series = rest.reduce<number>((sum, factor, index) => sum + factor / (x + index), first);
  const base = x + 6.5;
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(base) - base + Math.log(series);
}
