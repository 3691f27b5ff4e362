/**
 * `npm run bench -- talk`: false activations in all the human talk of the measuring
 * data, with every phrase of the rehearsal legal at once (a case never has so many).
 */
import { GrammarListener, REHEARSAL_CLIPS } from '../../src/voice';
import { hearAll, MODEL_BASE, vocabularyOf } from '../voice/real-listener';
import { hasHumanTalk, loadHumanTalk } from './human-talk';

/** Runs all of it; some ten minutes. */
export async function benchTalk(): Promise<object> {
  if (!hasHumanTalk()) return { skipped: 'the measuring data is not here' };
  const commands = REHEARSAL_CLIPS.filter(({ isTalk }) => !isTalk).map(({ words }) => words);
  const vocabulary = vocabularyOf([...new Set(commands)]);
  const listener = await GrammarListener.create({ modelBase: MODEL_BASE }, () => 0);
  const activations: object[] = [];
  let hours = 0;
  for (const sound of loadHumanTalk(Infinity)) {
    hours += sound.length / 16_000 / 3600;
    const heard = await hearAll(listener, vocabulary, sound);
    for (const { words, score } of heard)
      if (words !== null) activations.push({ words, score: Number(score.toFixed(2)) });
  }
  await listener.close();
  return {
    hours: Number(hours.toFixed(2)),
    phrasesLegal: vocabulary.phrases.length,
    perHour: Number((activations.length / hours).toFixed(2)),
    activations,
  };
}
