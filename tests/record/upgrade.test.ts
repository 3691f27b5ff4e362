/** Reading entries of other versions, and the frozen record of each version there has been. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { ENTRY_VERSION, asId } from '../../src/domain';
import type { Entry } from '../../src/domain';
import { listFactTypes } from '../../src/record/envelope';
import { toReadCase } from '../../src/record/read-case';
import { UPGRADERS, readEntry } from '../../src/record/upgrade';
import { CASE_A, makeOffer, makeOpening } from './entry-samples';

interface FrozenRecord {
  readonly version: number;
  readonly entries: readonly Entry[];
}

function readFrozen(version: number): FrozenRecord {
  const url = new URL(`./fixtures/record-v${version}.json`, import.meta.url);
  return JSON.parse(readFileSync(url, 'utf8')) as FrozenRecord;
}

describe('upgraders', () => {
  test('[REC7] there is one for each version before the current one', () => {
    expect(UPGRADERS).toHaveLength(ENTRY_VERSION - 1);
  });

  test('[REC7] an older entry passes every upgrader from its own version on', () => {
    const place = { caseId: CASE_A, seq: 4 };
    const upgraders = [
      (stored: object) => ({ ...stored, version: 2, data: { steps: ['1 to 2'] } }),
      (stored: Readonly<Record<string, unknown>>) => {
        const { steps } = stored['data'] as { steps: string[] };
        return { ...stored, version: 3, data: { steps: [...steps, '2 to 3'] } };
      },
    ];
    const fromOne = readEntry({ ...makeOffer(CASE_A, 4, 20), version: 1 }, place, upgraders, 3);
    expect(fromOne).toMatchObject({ ok: true, value: { data: { steps: ['1 to 2', '2 to 3'] } } });
    const second = { ...makeOffer(CASE_A, 4, 20), version: 2, data: { steps: [] } };
    const fromTwo = readEntry(second, place, upgraders, 3);
    expect(fromTwo).toMatchObject({ ok: true, value: { data: { steps: ['2 to 3'] } } });
  });

  test('[REC7] reading does not change the stored value', () => {
    const stored = Object.freeze({ ...makeOffer(CASE_A, 0, 20), version: 1 });
    const upgraders = [(value: object) => ({ ...value, version: 2 })];
    const read = readEntry(stored, { caseId: CASE_A, seq: 0 }, upgraders, 2);
    expect(read.ok && read.value).not.toBe(stored);
    expect(stored.version).toBe(1);
  });
});

describe('frozen records', () => {
  for (let version = 1; version <= ENTRY_VERSION; version += 1) {
    test(`[REC15] the frozen record of version ${version} is read whole`, () => {
      const { entries } = readFrozen(version);
      const stored = entries.map((value) => ({ seq: value.seq, value }));
      const read = toReadCase(asId('frozen-case'), stored);
      expect(read.problem).toBeNull();
      expect(read.entries).toHaveLength(entries.length);
      expect(read.entries.map(({ version: now }) => now)).toEqual(entries.map(() => ENTRY_VERSION));
    });
  }

  test('[REC15] the frozen record of the current version has every type of entry', () => {
    const frozen = new Set(readFrozen(ENTRY_VERSION).entries.map(({ type }) => type));
    expect([...frozen].sort()).toEqual([...listFactTypes()].sort());
  });
});

describe('damage', () => {
  const good = makeOpening(CASE_A);
  const place = { caseId: CASE_A, seq: 0 };
  test.each([
    ['nothing', undefined],
    ['text', 'case.opened'],
    ['a list', [good]],
    ['no version', { ...good, version: undefined }],
    ['a version that is no number', { ...good, version: '1' }],
    ['version 0', { ...good, version: 0 }],
    ['an unknown type', { ...good, type: 'case.invented' }],
    ['an unknown source', { ...good, source: 'rumour' }],
    ['a position of another place', { ...good, seq: 1 }],
    ['an entry of another case', { ...good, caseId: 'case-b' }],
    ['a wall time that is no time', { ...good, at: Number.POSITIVE_INFINITY }],
    ['a monotonic time before the run', { ...good, mono: -1 }],
    ['an empty run', { ...good, run: '' }],
    ['data that is a list', { ...good, data: [] }],
  ])('[REC6] %s is not an entry', (_, value) => {
    expect(readEntry(value, place)).toMatchObject({
      ok: false,
      error: { code: 'record-unreadable', params: { seq: '0' } },
    });
  });
});
