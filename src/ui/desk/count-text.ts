/** What a line of a count that does not agree says. Pure. */
import type { CountView } from '../../session';

/** "Swabs 1 missing", "Swabs 2 too many", "Swabs differ". */
export function differenceToText({ label, expected, value }: CountView['items'][number]): string {
  if (expected === null || value === null || expected === value) return `${label} differ`;
  return value < expected
    ? `${label} ${expected - value} missing`
    : `${label} ${value - expected} too many`;
}
