/** A case in the store of which one bit was turned over: whichever it is, reading says so. */
import { describe, expect, test } from 'vitest';
import { createMemoryStore } from '../../src/record';
import type { MemoryContents } from '../../src/record';
import { expectOk } from './expectations';
import { CASE_A, makeCase } from './entry-samples';

/** Entries of the case; the flips of each are tried with all the others whole. */
const COUNT = 4;

/** The value that the bytes spell, or what a torn value looks like where they spell none. */
function parse(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return undefined;
  }
}

describe('a stored case with one bit turned over', () => {
  test('[REC22] is found at that entry, for every bit of every entry', async () => {
    const whole: MemoryContents = new Map();
    expectOk(await createMemoryStore(whole).append(CASE_A, makeCase(CASE_A, COUNT)));
    const lines = whole.get(CASE_A) ?? [];
    const missed: string[] = [];
    let tried = 0;
    for (const [seq, line] of lines.entries()) {
      const bytes = new TextEncoder().encode(JSON.stringify(line.value));
      for (let place = 0; place < bytes.length * 8; place += 1) {
        const changed = bytes.slice();
        changed[place >> 3] = (changed[place >> 3] ?? 0) ^ (1 << (place & 7));
        const contents: MemoryContents = new Map([
          [CASE_A, lines.map((it) => (it.seq === seq ? { seq, value: parse(changed) } : it))],
        ]);
        const { seal } = expectOk(await createMemoryStore(contents).read(CASE_A));
        if (!seal.brokenAt.includes(seq)) missed.push(`entry ${seq}, bit ${place}`);
        tried += 1;
      }
    }
    expect(missed).toEqual([]);
    expect(tried).toBeGreaterThan(COUNT * 8 * 100);
  });
});
