/** A distribution in a few numbers; nearest-rank percentiles, rounded to a tenth of a microsecond for milliseconds. */
export function spread(values: readonly number[]): Readonly<Record<string, number>> {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (part: number) =>
    Number((sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? 0).toFixed(4));
  return { count: sorted.length, median: at(0.5), p95: at(0.95), p99: at(0.99), most: at(1) };
}
