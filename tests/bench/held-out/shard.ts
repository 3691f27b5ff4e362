/**
 * A measurement in parts, so that several processes can share it: each takes every nth
 * piece of the same plan, with the piece's own seed, and `npm run bench -- merge FILE...`
 * adds their results up.
 */

/** Part `index` (from 0) of `count`. */
export interface Shard {
  readonly index: number;
  readonly count: number;
}

/** Reads `1/4`: parts are counted from one. Nothing said: everything. Throws on what is no part. */
export function readShard(text: string | undefined): Shard {
  if (text === undefined) return { index: 0, count: 1 };
  const [, part, count] = /^(\d+)\/(\d+)$/.exec(text) ?? [];
  const shard = { index: Number(part) - 1, count: Number(count) };
  if (!(shard.index >= 0 && shard.index < shard.count))
    throw new Error(`--shard: expected PART/COUNT such as 1/4, received "${text}"`);
  return shard;
}

/** Whether the piece at this place of the plan is this part's. */
export function isInShard({ index, count }: Shard, place: number): boolean {
  return place % count === index;
}
