import { fc, test } from '@fast-check/vitest';
import { describe, expect, it } from 'vitest';
import { canGoOn, grammarToGraph, vocabularyToGrammar } from '../../src/voice';
import { spellAll } from './spell-graph';
import { vocabularyOf } from './real-listener';

const everyWord = (): boolean => true;

describe('grammar', () => {
  it('[VOI1] holds the address phrase and exactly the legal phrases', () => {
    const grammar = vocabularyToGrammar(vocabularyOf(['step done', 'depth two four']), everyWord);
    expect(spellAll(grammarToGraph(grammar)).map(({ words }) => words).sort()).toEqual([
      'theatre wall', 'theatre wall depth', 'theatre wall depth two', 'theatre wall depth two four',
      'theatre wall step', 'theatre wall step done',
    ]); // prettier-ignore
    expect([...grammar.phraseOf]).toEqual([
      ['theatre wall step done', 'step done'],
      ['theatre wall depth two four', 'depth two four'],
    ]);
  });

  it('[VOI2] leaves out a phrase with a word nobody can pronounce, and says which word', () => {
    const grammar = vocabularyToGrammar(
      vocabularyOf(['step done', 'take the xqz']),
      (word) => word !== 'xqz',
    );
    expect(grammar.faults).toEqual([{ code: 'word-not-pronounceable', params: { word: 'xqz' } }]);
    expect([...grammar.phraseOf.values()]).toEqual(['step done']);
  });

  it('[VOI2] hears nothing where the address phrase itself can not be pronounced', () => {
    const grammar = vocabularyToGrammar(vocabularyOf(['step done']), (word) => word !== 'wall');
    expect(grammarToGraph(grammar)).toBeNull();
    expect(grammar.faults.map(({ params }) => params['word'])).toEqual(['wall']);
  });

  test.prop([fc.array(fc.string(), { maxLength: 5 })])(
    '[VOI2] never lets a text through that is grammar syntax',
    (texts) => {
      const grammar = vocabularyToGrammar(vocabularyOf(texts), everyWord);
      for (const { words } of spellAll(grammarToGraph(grammar)))
        expect(words).toMatch(/^theatre wall( [a-z][a-z']*)*$/);
      expect(grammarToGraph(grammar) === null).toBe(grammar.phraseOf.size === 0);
    },
  );

  it('[VOI1] maps what was recognised back to the phrase as the vocabulary writes it', () => {
    const { phraseOf } = vocabularyToGrammar(vocabularyOf(["Direction  nine o'clock"]), everyWord);
    expect(phraseOf.get("theatre wall direction nine o'clock")).toBe("Direction  nine o'clock");
    expect(phraseOf.get('theatre wall')).toBeUndefined();
  });

  it('[VOI6] knows which phrase may still go on', () => {
    const vocabulary = vocabularyOf(['direction ten', 'direction ten thirty']);
    expect(canGoOn('direction ten', vocabulary)).toBe(true);
    expect(canGoOn('direction ten thirty', vocabulary)).toBe(false);
  });
});
