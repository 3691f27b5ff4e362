/** Counts of what became of spoken phrases, for one listener in one room. */
import type { HeardPhrase, SpokenOrder } from '../../../src/domain';
import { isValue } from './moments';
import { toShare } from './proportion';
import type { Share } from './proportion';

/** One phrase's fate at its first try. */
export interface Outcome {
  readonly kind: 'right' | 'missed' | 'asked' | 'wrong';
  /** The order of a value that nobody said and the wall would read back; null where there is none. */
  readonly wrongValue: SpokenOrder | null;
}

/** Right is what means the same: phrases with one order are one. Anything else taken is wrong, also beside what is right. */
export function judge(
  said: string,
  legal: readonly SpokenOrder[],
  heard: readonly HeardPhrase[],
): Outcome {
  const orderOf = (words: string | null): SpokenOrder | undefined =>
    legal.find((spoken) => spoken.words === words);
  const meant = JSON.stringify(orderOf(said)?.order);
  const taken = heard.flatMap(({ words }) => orderOf(words) ?? []);
  const others = taken.filter(({ order }) => JSON.stringify(order) !== meant);
  if (others.length > 0) return { kind: 'wrong', wrongValue: others.find(isValue) ?? null };
  if (taken.length > 0) return { kind: 'right', wrongValue: null };
  const isAsked = heard.some(({ candidates }) => candidates !== undefined);
  return { kind: isAsked ? 'asked' : 'missed', wrongValue: null };
}

export interface Row {
  readonly right: Share;
  /** Of these, the two likeliest phrases were shown for part. */
  readonly missed: Share;
  readonly asked: number;
  readonly wrong: Share;
  /** Of spoken values. */
  readonly wrongValueOffered: Share;
  /** Null where no read-back was simulated. */
  readonly wrongValueConfirmed: Share | null;
}

export class Tally {
  #counts = {
    said: 0,
    values: 0,
    right: 0,
    missed: 0,
    asked: 0,
    wrong: 0,
    offered: 0,
    confirmed: 0,
  };
  #hasReadBack = true;

  /** `isConfirmed`: whether a wrong value survived its read-back; null where none was simulated. */
  add({ kind, wrongValue }: Outcome, isOfValue: boolean, isConfirmed: boolean | null): void {
    const counts = this.#counts;
    counts.said += 1;
    if (isOfValue) counts.values += 1;
    counts[kind] += 1;
    if (kind === 'asked') counts.missed += 1;
    if (wrongValue) counts.offered += 1;
    if (isConfirmed) counts.confirmed += 1;
    if (isConfirmed === null) this.#hasReadBack = false;
  }

  get row(): Row {
    const { said, values, right, missed, asked, wrong, offered, confirmed } = this.#counts;
    const ofValues = Math.max(values, offered);
    return {
      right: toShare(right, said),
      missed: toShare(missed, said),
      asked,
      wrong: toShare(wrong, said),
      wrongValueOffered: toShare(offered, ofValues),
      wrongValueConfirmed: this.#hasReadBack ? toShare(confirmed, ofValues) : null,
    };
  }
}

/** One row of the same rows measured in several parts. */
function mergeTwo(a: Row, b: Row): Row {
  const sum = (one: Share, other: Share): Share =>
    toShare(one.count + other.count, one.of + other.of);
  const add = (name: Exclude<keyof Row, 'asked' | 'wrongValueConfirmed'>): Share =>
    sum(a[name], b[name]);
  const [one, other] = [a.wrongValueConfirmed, b.wrongValueConfirmed];
  return {
    right: add('right'),
    missed: add('missed'),
    asked: a.asked + b.asked,
    wrong: add('wrong'),
    wrongValueOffered: add('wrongValueOffered'),
    wrongValueConfirmed: one && other && sum(one, other),
  };
}

/** The rows of parts that heard different sounds, counted together; intervals are worked out anew. */
export function mergeRows(parts: readonly Readonly<Record<string, Row>>[]): Record<string, Row> {
  const merged: Record<string, Row> = {};
  for (const [name, row] of parts.flatMap((rows) => Object.entries(rows))) {
    const known = merged[name];
    merged[name] = known ? mergeTwo(known, row) : row;
  }
  return merged;
}

/** Tallies by name, made when first asked for. */
export class Tallies {
  readonly #byName = new Map<string, Tally>();

  of(name: string): Tally {
    const known = this.#byName.get(name) ?? new Tally();
    this.#byName.set(name, known);
    return known;
  }

  get rows(): Readonly<Record<string, Row>> {
    return Object.fromEntries([...this.#byName].map(([name, tally]) => [name, tally.row]));
  }
}
