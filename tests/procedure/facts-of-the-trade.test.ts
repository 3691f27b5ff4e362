/** Facts of the trade, marked "common practice", that the flagship must agree with. */
import { describe, expect, it } from 'vitest';
import { clockOpposite, clockToText } from '../../src/domain';
import { loadBuiltIn, wordsForValue } from '../../src/procedure';

const loaded = loadBuiltIn('reverse-shoulder-glenoid');
if (!loaded.ok) throw new Error('The flagship does not load');
const { captures, steps } = loaded.value;
const byId = (id: string) => {
  const capture = [...captures.values()].find((candidate) => candidate.id === id);
  if (!capture) throw new Error(`No capture "${id}"`);
  return capture;
};

describe('the flagship', () => {
  it('[PRO8] takes post and depth from the same list (common practice: drill, depth and post carry one number)', () => {
    const depth = byId('depth');
    const post = byId('post');
    expect(depth.kind === 'number' && post.kind === 'number' && depth.values).toEqual(
      post.kind === 'number' && post.values,
    );
  });

  it('[PRO8] puts the helper mark opposite the mark of greatest loss (common practice: 180 degrees apart)', () => {
    expect(clockToText(clockOpposite(630))).toBe('4:30');
  });

  it('[PRO9] has up to four screws, each with kind, drill, length and seat', () => {
    const screws = [...steps.keys()].filter((id) => id.startsWith('screw-'));
    expect(screws).toHaveLength(16);
  });

  it('[PRO10] says a size digit by digit first, and as a whole number where nothing sounds alike', () => {
    expect(wordsForValue(byId('depth'), 24)).toEqual(['depth two four', 'depth twenty four']);
    expect(wordsForValue(byId('wedge'), 8)).toEqual(['wedge eight']);
  });

  it('[PRO10] takes thirteen and thirty only digit by digit where both are on offer (ISMP: error-prone pair)', () => {
    const capture = { ...byId('depth'), kind: 'number', unit: 'mm', values: [13, 30, 42] } as const;
    expect(wordsForValue(capture as never, 13)).toEqual(['depth one three']);
    expect(wordsForValue(capture as never, 30)).toEqual(['depth three zero']);
    expect(wordsForValue(capture as never, 42)).toEqual(['depth four two', 'depth forty two']);
  });
});
