import { describe, expect, it } from 'vitest';
import { listBuiltIn, listCardPhrases, listLegalValues, loadBuiltIn } from '../../src/procedure';
import { coverText } from '../../src/voice';

describe.each(listBuiltIn().map(({ id }) => id))('what is read for %s', (id) => {
  const compiled = loadBuiltIn(id);
  if (!compiled.ok) throw new Error(id);
  const { read, tries } = listCardPhrases(compiled.value);
  const recorded = new Set(read.map(({ words }) => words));

  it('[CARD14] has each text once, and few enough to be read twice in some minutes', () => {
    expect(recorded.size).toBe(read.length);
    // The "about two minutes" for the flagship; larger operations have more sizes.
    expect(read.length).toBeLessThanOrEqual(id === 'reverse-shoulder-glenoid' ? 30 : 60);
  });

  it('[CARD14] covers every size that is said in digits, and all that the test offers', () => {
    for (const capture of compiled.value.captures.values()) {
      if (capture.kind !== 'number') continue;
      for (const { words } of listLegalValues(capture)) {
        const [inDigits = ''] = words;
        expect(coverText(`${capture.say} ${inDigits}`, recorded)).not.toEqual([]);
      }
    }
    for (const { words } of tries) expect(coverText(words, recorded)).not.toEqual([]);
    expect(tries.some(({ order }) => order.type === 'capture.offer')).toBe(true);
  });
});
