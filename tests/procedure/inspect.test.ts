/** The whole check: what it gives besides findings, its bounds, and that its dictionary and the vocabulary agree. */
import { describe, expect, it, vi } from 'vitest';
import { loadPronunciations, run } from '../../src/cli/check-procedure';
import { numberToWords, soundsLikeAnother } from '../../src/domain';
import {
  checkProcedure,
  importProcedure,
  inspectProcedure,
  USUAL_ADDRESS_PHRASE,
} from '../../src/procedure';
import flagship from '../../src/procedure/library/reverse-shoulder-glenoid.json';
import { DEFAULT_ADDRESS_PHRASE } from '../../src/voice';
import { BASE, breakBase } from './corpus/corpus';

// Walks take seconds on a busy machine; no assertion looks at the time.
vi.setConfig({ testTimeout: 120_000 });

const pronounce = await loadPronunciations();

describe('inspectProcedure', () => {
  it('[PRO11] finds nothing fatal in the flagship, and sees all of it', () => {
    const { canRun, isComplete, findings } = inspectProcedure(flagship, { pronounce });
    expect({ canRun, isComplete }).toEqual({ canRun: true, isComplete: true });
    expect(findings.filter(({ isFatal }) => isFatal)).toEqual([]);
  });

  it('[CHK4] says of each finding where, what was expected and found, and what to do', () => {
    const { findings } = inspectProcedure(breakBase({ set: { 'captures.0.values': [24, 16] } }));
    expect(findings.length).toBeGreaterThan(0);
    for (const { kind, path, expected, received, advice } of findings) {
      for (const text of [kind, path, expected, received, advice]) expect(text).not.toBe('');
    }
  });

  it('[CHK5] ends where the time is up, and says what was not looked at', () => {
    let asked = 0;
    const { isComplete, findings, states, canRun } = inspectProcedure(BASE, {
      isTimeUp: () => (asked += 1) > 20,
    });
    expect(isComplete).toBe(false);
    expect(states).toBeLessThan(200);
    expect(findings.map(({ kind }) => kind)).toEqual(['walk-cut-short']);
    expect(canRun).toBe(true);
  });

  it('[CHK5] refuses what would be too large to write out, before writing it out', () => {
    const many = Array.from({ length: 100_000 }, (_, index) => ({ id: `i${index}`, label: 'x', tray: 'x' })); // prettier-ignore
    const checked = checkProcedure(breakBase({ set: { instruments: many } }));
    expect(checked.ok ? [] : checked.error.map(({ kind, path }) => `${kind} ${path}`)).toEqual([
      'too-large instruments',
    ]);
  });

  it('[CHK6] walks through a file that is imported, and refuses one that gets stuck', () => {
    const stuck = breakBase({ set: { 'holdPoints.0.needs.0.capture': 'locked' } });
    expect(checkProcedure(stuck).ok).toBe(true);
    const imported = importProcedure(stuck);
    expect(imported.ok ? null : imported.error.params['path']).toBe('holdPoints.post-hold');
    expect(importProcedure(BASE).ok).toBe(true);
  });

  it('[CHK7] takes the address phrase of the voice for one of the wall’s own, or the site’s', () => {
    expect(USUAL_ADDRESS_PHRASE).toBe(DEFAULT_ADDRESS_PHRASE);
    const { findings } = inspectProcedure(BASE, { addressPhrase: 'insert' });
    expect(findings.map(({ kind, path }) => `${kind} ${path}`)).toContain(
      'phrase-of-the-wall steps.insert.say',
    );
  });

  it('[CHK8] every pair of numbers one sound apart is taken digit by digit (dictionary of the listener)', () => {
    const numbers = Array.from({ length: 90 }, (_, index) => index + 10);
    const { findings } = inspectProcedure(
      breakBase({ set: { 'captures.0.values': numbers, 'captures.2.values': numbers } }),
      { pronounce, most: 50 },
    );
    const alike = findings.filter(
      ({ kind, path }) => kind === 'digits-only' && path === 'captures.depth.values',
    );
    // ISMP's error-prone pairs: 13 and 30 up to 19 and 90.
    expect(alike.map(({ received }) => received)).toEqual([
      '“thirteen” and “thirty”', '“fourteen” and “forty”', '“fifteen” and “fifty”',
      '“sixteen” and “sixty”', '“seventeen” and “seventy”', '“eighteen” and “eighty”', '“nineteen” and “ninety”',
    ]); // prettier-ignore
    expect(numbers.filter((value) => soundsLikeAnother(value, numbers)).map(numberToWords)).toHaveLength(14); // prettier-ignore
  });
});

describe('npm run check-procedure', () => {
  it('[CHK9] gives 2 where there is no file to read', async () => {
    expect(await run([])).toBe(2);
    expect(await run(['tests/procedure/corpus/no-such-file.json'])).toBe(2);
  });
});
