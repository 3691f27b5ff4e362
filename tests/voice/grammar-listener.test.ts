import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { GrammarListener } from '../../src/voice';
import { hearAll, join, hiss, loadFixture, loadRealListener, vocabularyOf } from './real-listener';

// Independent sound: flite's voices (Debian package flite), none of which made the model.
const VOCABULARY = vocabularyOf([
  'step done', 'what is next', 'say again', 'depth one six', 'depth sixteen', 'depth two zero',
  'depth two four', 'depth two eight', 'screw one four', 'screw four zero', 'glenosphere four zero',
]); // prettier-ignore

let listener: GrammarListener;
beforeAll(async () => {
  listener = await loadRealListener();
});
afterAll(() => listener.close());

async function wordsIn(sound: Float32Array): Promise<(string | null)[]> {
  return (await hearAll(listener, VOCABULARY, sound)).map(({ words }) => words);
}

describe('the listener on recorded speech', () => {
  it.each([
    ['awb-depth-one-six', 'depth one six'],
    ['awb-depth-two-zero', 'depth two zero'],
    ['slt-depth-two-four', 'depth two four'],
    ['kal16-screw-one-four', 'screw one four'],
    ['rms-screw-four-zero', 'screw four zero'],
    ['awb-glenosphere-four-zero', 'glenosphere four zero'],
  ])('[VOI1] hears %s as "%s"', async (fixture, words) => {
    expect(await wordsIn(loadFixture(fixture))).toEqual([words]);
  });

  it.each([['slt-unaddressed-depth-two-four'], ['awb-talk'], ['rms-addressed-talk']])(
    '[VOI3] takes no command from %s',
    async (fixture) => {
      expect((await wordsIn(loadFixture(fixture))).filter((words) => words !== null)).toEqual([]);
    },
  );

  it('[VOI3] takes no value that is not legal now', async () => {
    const legal = vocabularyOf(['depth one six', 'depth two eight', 'confirm']);
    const heard = await hearAll(listener, legal, loadFixture('slt-depth-two-four'));
    expect(heard.map(({ words }) => words)).toEqual([null]);
  });

  it('[VOI4] decides an utterance under way with the vocabulary of that moment', async () => {
    await listener.setVocabulary(vocabularyOf(['step done']));
    await listener.setVocabulary(VOCABULARY);
    const utterance = join(hiss(200), loadFixture('slt-depth-two-four'), hiss(200));
    expect((await listener.recognise(utterance)).words).toBe('depth two four');
  });

  it('[VOI2] hears the other phrases where one has an unknown word', async () => {
    const faults = await listener.setVocabulary(vocabularyOf(['depth two four', 'xqzv done']));
    expect(faults.map(({ code }) => code)).toEqual(['word-not-pronounceable']);
    const utterance = join(hiss(200), loadFixture('slt-depth-two-four'), hiss(200));
    expect((await listener.recognise(utterance)).words).toBe('depth two four');
  });

  it('[VOI2] hears nothing, and does not fail, with an empty vocabulary', async () => {
    await listener.setVocabulary(vocabularyOf([]));
    expect((await listener.recognise(hiss(500))).words).toBeNull();
  });

  it('[VOI1] scores what it takes from 0 to 1, and higher than what it does not take', async () => {
    const [taken] = await hearAll(listener, VOCABULARY, loadFixture('slt-depth-two-four'));
    const [left] = await hearAll(listener, VOCABULARY, loadFixture('awb-talk'));
    expect(taken?.score).toBeGreaterThan(left?.score ?? 1);
    expect(taken?.score).toBeLessThanOrEqual(1);
  });
});
