/** Files taken in: whole ones only, whatever was done to them in between. */
import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { caseToJson, casesToJson, createMemoryStore, readImport } from '../../src/record';
import { expectOk } from './expectations';
import { CASE_A, CASE_B, makeCase } from './entry-samples';

/** Fixed, so that the same thousand files are tried each time. */
const SEED = 20310314;
const MUTANTS = 1000;

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

async function saveCase(caseId = CASE_A, count = 6): Promise<string> {
  const store = createMemoryStore();
  expectOk(await store.append(caseId, makeCase(caseId, count)));
  return caseToJson(expectOk(await store.readStored(caseId)));
}

describe('a file that is as it was saved', () => {
  test('[REC25] is taken in and gives the same case and the same file again', async () => {
    const text = await saveCase();
    const [found] = expectOk(await readImport(encode(text)));
    if (!found) throw new Error('no case in the file');
    expect([found.isSealed, found.isReformatted]).toEqual([true, false]);
    const store = createMemoryStore();
    expectOk(await store.importCase(found.caseId, found.values));
    const read = expectOk(await store.read(CASE_A));
    expect(read.entries).toEqual(makeCase(CASE_A, 6));
    expect(read.seal.brokenAt).toEqual([]);
    expect(caseToJson(expectOk(await store.readStored(CASE_A)))).toBe(text);
  });

  test('[REC25] may hold several cases', async () => {
    const values = await Promise.all(
      [CASE_A, CASE_B].map(async (caseId) => {
        const [found] = expectOk(await readImport(encode(await saveCase(caseId))));
        return found?.values ?? [];
      }),
    );
    const cases = expectOk(await readImport(encode(casesToJson(values))));
    expect(cases.map(({ caseId }) => caseId)).toEqual([CASE_A, CASE_B]);
  });

  test('[REC25] of the first version is taken in, and said to be without seals', async () => {
    const url = new URL('./fixtures/record-v1.json', import.meta.url);
    const [found] = expectOk(await readImport(readFileSync(url)));
    expect(found?.isSealed).toBe(false);
    expect(found?.values[0]).toMatchObject({ version: 1 });
  });

  test('[REC25] never replaces a case that is here', async () => {
    const store = createMemoryStore();
    expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
    const [found] = expectOk(await readImport(encode(await saveCase())));
    const again = await store.importCase(CASE_A, found?.values ?? []);
    expect(again).toMatchObject({ ok: false, error: { code: 'import-exists' } });
    expect(expectOk(await store.read(CASE_A)).entries).toHaveLength(2);
  });
});

describe('a file that is not', () => {
  test.each([
    ['is no text', '\xff', 'import-unreadable'],
    ['is no JSON', '{', 'import-unreadable'],
    ['is something else', '{"format":"notes"}', 'import-unreadable'],
    ['is a list', '[]', 'import-unreadable'],
    ['is of a later version', '{"format":"cuewall-case","version":9}', 'import-too-new'],
    ['has no entries', '{"format":"cuewall-case","version":2,"mode":"demo","count":0,"hash":null,"entries":[]}', 'import-altered'],
  ])('[REC26] %s is refused', async (_, text, code) => {
    const bytes = text === '\xff' ? new Uint8Array([0xff]) : encode(text);
    expect(await readImport(bytes)).toMatchObject({ ok: false, error: { code } });
  }); // prettier-ignore

  test('[REC26] lost its end, or names another mode, is refused', async () => {
    const frame = JSON.parse(await saveCase()) as {
      mode: string;
      count: number;
      entries: unknown[];
    };
    const cut = { ...frame, entries: frame.entries.slice(0, -1) };
    const cutAndCounted = { ...cut, count: frame.count - 1 };
    const passedOff = { ...frame, mode: 'real' };
    const unsealed = {
      format: 'cuewall-case',
      version: 1,
      mode: frame.mode,
      entries: frame.entries,
    };
    for (const changed of [cut, cutAndCounted, passedOff, unsealed]) {
      const read = await readImport(encode(JSON.stringify(changed)));
      expect(read).toMatchObject({ ok: false, error: { code: 'import-altered' } });
    }
  });

  test('[REC26] every single bit of a file turned over: refused, or the very same case and said to be laid out anew', async () => {
    const text = await saveCase(CASE_A, 2);
    const original = encode(text);
    const silent: string[] = [];
    let refused = 0;
    for (let at = 0; at < original.length; at += 1) {
      for (let bit = 0; bit < 8; bit += 1) {
        const read = await readImport(mutate(original, { kind: 'flip', at, bit }));
        if (!read.ok) refused += 1;
        else {
          const [found] = read.value;
          const isSame = caseToJson(found?.values ?? []) === text;
          if (!isSame || found?.isReformatted !== true) silent.push(`byte ${at}, bit ${bit}`);
        }
      }
    }
    expect(silent).toEqual([]);
    // Only blanks between the members can change without changing the case.
    expect(refused).toBeGreaterThan(original.length * 8 * 0.9);
  });

  test(`[REC26] ${MUTANTS} mutated files: none crashes, none is taken in silently`, async () => {
    const text = await saveCase(CASE_A, 8);
    const original = encode(text);
    const outcomes = { refused: 0, unchanged: 0 };
    const Place = fc.nat({ max: original.length - 1 });
    const Mutation = fc.oneof(
      fc.record({ kind: fc.constant('flip' as const), at: Place, bit: fc.nat({ max: 7 }) }),
      fc.record({ kind: fc.constant('cut' as const), at: Place, length: fc.nat({ max: 400 }) }),
      fc.record({ kind: fc.constant('copy' as const), at: Place, length: fc.nat({ max: 400 }) }),
      fc.record({ kind: fc.constant('end' as const), at: Place }),
      fc.record({ kind: fc.constant('byte' as const), at: Place, byte: fc.nat({ max: 255 }) }),
      fc.record({ kind: fc.constant('digit' as const), at: Place }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(Mutation, { minLength: 1, maxLength: 3 }), async (mutations) => {
        let bytes = original;
        for (const mutation of mutations) bytes = mutate(bytes, mutation);
        const read = await readImport(bytes);
        if (!read.ok) outcomes.refused += 1;
        else {
          // Only the very same case may come in, and a text that differs is told.
          const [found] = read.value;
          expect(caseToJson(found?.values ?? [])).toBe(text);
          expect(found?.isReformatted).toBe(new TextDecoder().decode(bytes) !== text);
          outcomes.unchanged += 1;
        }
      }),
      { numRuns: MUTANTS, seed: SEED },
    );
    expect(outcomes.refused + outcomes.unchanged).toBe(MUTANTS);
    expect(outcomes.refused).toBeGreaterThan(MUTANTS * 0.8);
  });
});

interface Mutation {
  readonly kind: 'flip' | 'cut' | 'copy' | 'end' | 'byte' | 'digit';
  readonly at: number;
  readonly bit?: number;
  readonly length?: number;
  readonly byte?: number;
}

function mutate(
  bytes: Uint8Array,
  { kind, at, bit = 0, length = 0, byte = 0 }: Mutation,
): Uint8Array {
  const changed = bytes.slice();
  switch (kind) {
    case 'flip':
      changed[at] = (changed[at] ?? 0) ^ (1 << bit);
      return changed;
    case 'byte':
      changed[at] = byte;
      return changed;
    case 'end':
      return changed.slice(0, at);
    case 'cut':
      return Uint8Array.from([...changed.slice(0, at), ...changed.slice(at + length)]);
    case 'copy':
      return Uint8Array.from([...changed.slice(0, at + length), ...changed.slice(at)]);
    case 'digit': {
      const place = changed.findIndex((code, index) => index >= at && code >= 0x30 && code <= 0x39);
      if (place >= 0) changed[place] = 0x30 + (((changed[place] ?? 0) - 0x30 + 1) % 10);
      return changed;
    }
  }
}
