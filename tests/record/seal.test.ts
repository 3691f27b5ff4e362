/** The chain, reckoned a second time from docs/record-format.md with Node's own SHA-256. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkChain } from '../../src/record/check-chain';
import { EMPTY_TAIL, loadHasher, sealEntries } from '../../src/record/seal';
import { CASE_A, makeCase } from './entry-samples';

const hasher = await loadHasher();

/** RFC 8785 for the values that occur in entries: members sorted by name, no spaces. */
function toCanonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(toCanonical).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const members = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${members.map(([key, it]) => `${JSON.stringify(key)}:${toCanonical(it)}`).join(',')}}`;
}

function rehash(prev: string, value: object): string {
  const { hash, ...plain } = value as { hash?: string };
  void hash;
  return createHash('sha256')
    .update(toCanonical({ ...plain, prev }))
    .digest('hex');
}

describe('the chain', () => {
  // FIPS 180-4 by way of NIST's example values for SHA-256: the message "abc".
  test('[REC21] is SHA-256', () => {
    expect(hasher('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });

  test.each(['record-v2', 'voice-cards-v2', 'hand-over-v2'])(
    '[REC21] of the frozen %s is what its description says',
    (name) => {
      const url = new URL(`./fixtures/${name}.json`, import.meta.url);
      const { entries } = JSON.parse(readFileSync(url, 'utf8')) as { entries: { hash: string }[] };
      let prev = '0'.repeat(64);
      for (const entry of entries) {
        expect(entry.hash).toBe(rehash(prev, entry));
        prev = entry.hash;
      }
    },
  );

  test('[REC22] is broken by every change of a single bit of a case', () => {
    const { sealed } = sealEntries(hasher, EMPTY_TAIL, makeCase(CASE_A, 3));
    const whole = sealed.map((value) => ({ seq: value.seq, value }));
    expect(checkChain(hasher, whole).brokenAt).toEqual([]);
    const text = JSON.stringify(sealed);
    const bytes = new TextEncoder().encode(text);
    const decoder = new TextDecoder('utf-8', { fatal: true });
    let parsed = 0;
    const missed: number[] = [];
    for (let bit = 0; bit < bytes.length * 8; bit += 1) {
      const changed = bytes.slice();
      changed[bit >> 3] = (changed[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      const values = tryParse(() => JSON.parse(decoder.decode(changed)) as unknown);
      if (!Array.isArray(values)) continue;
      parsed += 1;
      const stored = values.map((value: unknown, seq) => ({ seq, value }));
      const { brokenAt } = checkChain(hasher, stored);
      // What is still the same case, written otherwise (1.0 for 1), is no change of it.
      const isSame = toCanonical(values) === toCanonical(sealed);
      if (brokenAt.length === 0 && !isSame) missed.push(bit);
    }
    expect(missed).toEqual([]);
    expect(parsed).toBeGreaterThan(500);
  });

  test('[REC22] is broken by any entry left out or any two exchanged', () => {
    const { sealed, tail } = sealEntries(hasher, EMPTY_TAIL, makeCase(CASE_A, 20));
    const Place = fc.nat({ max: 19 });
    fc.assert(
      fc.property(Place, Place, (a, b) => {
        const values = [...sealed] as unknown[];
        if (a === b) values.splice(a, 1);
        else [values[a], values[b]] = [values[b], values[a]];
        const stored = values.map((value, seq) => ({ seq, value }));
        expect(checkChain(hasher, stored, tail).brokenAt).not.toEqual([]);
      }),
    );
  });
});

function tryParse(parse: () => unknown): unknown {
  try {
    return parse();
  } catch (reason) {
    // Most changes make it no JSON or no UTF-8; those can't pass as a case.
    if (reason instanceof SyntaxError || reason instanceof TypeError) return null;
    throw reason;
  }
}
