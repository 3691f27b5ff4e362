/** Amounts of storage in words. Pure. */

const UNITS = ['bytes', 'kB', 'MB', 'GB', 'TB'] as const;

/** Bytes in the largest decimal unit (SI) that leaves at least 1, with one decimal below 10. */
export function bytesToText(bytes: number): string {
  let value = Math.max(0, bytes);
  let unit = 0;
  while (value >= 1000 && unit < UNITS.length - 1) {
    value /= 1000;
    unit += 1;
  }
  const digits = unit > 0 && value < 10 ? 1 : 0;
  return `${value.toFixed(digits)} ${UNITS[unit] ?? ''}`;
}
