/** Broken files, one fault each, and exactly what the checker must say of them. */
import { describe, expect, it, vi } from 'vitest';
import { loadPronunciations } from '../../src/cli/check-procedure';
import { FINDING_KINDS, inspectProcedure } from '../../src/procedure';
import { BASE, breakBase, CASES } from './corpus/corpus';

// Walks take seconds on a busy machine; no assertion looks at the time.
vi.setConfig({ testTimeout: 120_000 });

const pronounce = await loadPronunciations();
/** The good file has fewer states than this, the case that is cut short has more. */
const most = 1000;

/** Kind and place of each finding, each once. */
function summarise(data: unknown): readonly string[] {
  const { findings } = inspectProcedure(data, { pronounce, most });
  return [...new Set(findings.map(({ kind, path }) => `${kind} at ${path}`))].sort();
}

describe('the corpus of broken files', () => {
  it('[CHK2] begins from a file in which nothing is found', () => {
    expect(summarise(BASE)).toEqual([]);
  });

  it.each(CASES)('[CHK2] $name', (broken) => {
    expect(summarise(breakBase(broken))).toEqual(
      broken.finds.map(([kind, path]) => `${kind} at ${path}`).sort(),
    );
  });

  it('[CHK3] has a file for every kind of finding, and names no other', () => {
    const shown = new Set(CASES.flatMap(({ finds }) => finds.map(([kind]) => kind)));
    expect([...shown].sort()).toEqual(Object.keys(FINDING_KINDS).sort());
  });

  it('[CHK3] has each file once, fifty at least', () => {
    expect(new Set(CASES.map(({ name }) => name)).size).toBe(CASES.length);
    expect(CASES.length).toBeGreaterThanOrEqual(50);
  });
});
