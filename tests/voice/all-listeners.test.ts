/** Grammar and network as they are, the text listener a double that counts what it is asked. */
import { expect, it } from 'vitest';
import { MODEL_FILES, readSpeechFile } from '../../src/cli/sound-files';
import { AllListeners, LANGUAGES, NO_TEXT } from '../../src/voice';
import type { HearsText, TextQuestion } from '../../src/voice';
import { loadFixture, sizesOf, vocabularyOf } from './real-listener';

it('[VOI106] begins with every utterance and asks the text listener only where there is a choice', async () => {
  const asked: TextQuestion[] = [];
  let heard = 0;
  const text: HearsText = {
    hear: () => {
      heard += 1;
      return (question) => {
        asked.push(question);
        return Promise.resolve(NO_TEXT);
      };
    },
    close: () => Promise.resolve(),
  };
  const loadText = () => Promise.resolve(text);
  const all = await AllListeners.create(
    MODEL_FILES,
    readSpeechFile,
    LANGUAGES[0],
    () => 0,
    loadText,
  );

  const sound = loadFixture('slt-depth-two-four');
  await all.setVocabulary(vocabularyOf(['depth two four']));
  expect(await all.consider(sound)).toMatchObject(NO_TEXT);
  expect([heard, asked.length]).toEqual([1, 0]);

  const near = ['depth two five', 'depth two nine'];
  await all.setVocabulary(sizesOf(near, 'theatre wall'));
  await all.consider(sound);
  expect(heard).toBe(2);
  expect(asked).toHaveLength(1);
  expect(asked[0]?.targets.map(({ words }) => words)).toEqual(expect.arrayContaining(near));
  await all.close();
}, 60_000);
