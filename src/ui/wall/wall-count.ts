/** What the wall says of a count. Pure. */
import type { CountView } from '../../session';

type Line = CountView['items'][number];
/** How many lines of a count leave room for its heading? */
const MOST_LINES = 5;

/** "Swabs: 1 missing", "Count the swabs", "All agree". */
export function countToHeading({ items, kind }: CountView): string {
  const differing = items.filter(({ result }) => result === 'differs');
  const [first] = differing;
  if (first) {
    return differing.length === 1
      ? `${first.label}: ${differenceOf(first)}`
      : `${differing.length} lines do not agree`;
  }
  const next = items.find(({ result }) => result === null);
  if (next) return `Count: ${next.label}`;
  return kind === 'baseline' ? 'All counted' : 'All agree';
}

/** "1 missing", "2 too many", "does not agree". */
export function differenceOf({ expected, value }: Line): string {
  if (expected === null || value === null || expected === value) return 'does not agree';
  return value < expected ? `${expected - value} missing` : `${value - expected} too many`;
}

/** The lines that are drawn: what differs first of all, then what is open, in their order. */
export function linesToShow({ items }: CountView): {
  readonly shown: readonly Line[];
  readonly hidden: number;
} {
  const rank = ({ result }: Line) => (result === 'differs' ? 0 : result === null ? 1 : 2);
  const kept = new Set(items.toSorted((a, b) => rank(a) - rank(b)).slice(0, MOST_LINES));
  return { shown: items.filter((line) => kept.has(line)), hidden: items.length - kept.size };
}
