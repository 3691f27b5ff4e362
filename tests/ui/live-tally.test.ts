import { describe, expect, it } from 'vitest';
import { countHeard, describeScore, skipPhrase, startTally } from '../../src/ui/cards/live-tally';

const PHRASES = ['step done', 'depth two four', 'post two four'];
const heard = (words: string | null) => ({ words, candidates: [], isOfTwo: false });

describe('the live test of a card', () => {
  it('[CARD22] counts what was heard for the phrase that was asked for, not for the one heard', () => {
    let tally = startTally(PHRASES);
    expect(tally.next).toBe('step done');
    tally = countHeard(tally, heard('step done'), PHRASES);
    expect(tally.next).toBe('depth two four');
    tally = countHeard(tally, heard('post two four'), PHRASES);
    expect(tally.scores['post two four']).toBeUndefined();
    expect(describeScore(tally.scores['depth two four'])).toBe('taken for “post two four”');
  });

  it('[CARD22] asks for a phrase again after one failure, and for another after two', () => {
    let tally = startTally(PHRASES);
    tally = countHeard(tally, heard(null), PHRASES);
    expect(tally.next).toBe('step done');
    tally = countHeard(tally, heard(null), PHRASES);
    expect(tally.next).toBe('depth two four');
    expect(describeScore(tally.scores['step done'])).toBe('asked again twice');
  });

  it('[CARD22] comes back to what was asked for least', () => {
    let tally = startTally(PHRASES);
    tally = skipPhrase(tally, PHRASES);
    tally = countHeard(tally, heard('depth two four'), PHRASES);
    tally = countHeard(tally, heard('post two four'), PHRASES);
    expect(tally.next).toBe('step done');
    expect(describeScore(undefined)).toBeNull();
    expect(startTally([]).next).toBeNull();
  });
});
