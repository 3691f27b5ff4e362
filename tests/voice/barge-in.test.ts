import { describe, expect, it } from 'vitest';
import { isEchoOf, personLevelDb } from '../../src/voice';

describe('speaking over the wall', () => {
  it.each([
    ['depth two four', ['Depth', 'two four', 'Right?'], true],
    ['two four', ['Depth', 'two four'], true],
    ['depth two', ['Depth', 'two four'], true],
    ['confirm', ['Depth', 'two four', 'Right?'], false],
    ['depth two eight', ['Depth', 'two four'], false],
    ['four two', ['two four'], false],
    ['step done', [], false],
  ] as const)('[EAR9] "%s" while it says %j', (words, texts, isEcho) => {
    expect(isEchoOf(words, texts)).toBe(isEcho);
  });

  it('[EAR8] takes only what is near the level of people for a person, and nobody before anybody spoke', () => {
    expect(personLevelDb(null, 0)).toBeNull();
    expect(personLevelDb(-20, 0)).toBe(-38);
    expect(personLevelDb(-50, 12)).toBe(-56);
  });
});
