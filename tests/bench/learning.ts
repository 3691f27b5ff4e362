/**
 * `npm run bench -- learning`: a whole voice card (what the product asks somebody to read,
 * twice, a synthetic voice) learnt by the built product's worker in Chromium, first in one moment
 * of a procedure and half-way in its busiest: how long it takes in a quiet room and
 * while somebody speaks, and how long speech, a new vocabulary and the question whether
 * anybody is there wait for it. Times in milliseconds of this machine as busy as it is.
 */
import { DEFAULT_ADDRESS_PHRASE, soundToPcm } from '../../src/voice';
import { listCardTexts } from './held-out/desk-card';
import { say } from './held-out/memory';
import { listSpokenMoments, vocabularyOf } from './held-out/moments';
import type { LearningResult, LearningTask } from './learning-page';
import { spread } from './spread';
import { runInPage, withBuiltProduct } from './worker-in-chromium';
import type { BuiltProduct } from './worker-in-chromium';

/** The built-in procedure with the largest card and the busiest moment. */
const PROCEDURE = 'reverse-shoulder';
const VOICE = 'flite awb';
const CARD_MANNERS = [{ tempo: 0.95, cents: -30 }, { tempo: 1.05, cents: 40 }] as const; // prettier-ignore

export async function benchLearning(): Promise<object> {
  return withBuiltProduct(async (built) => {
    const task = makeTask(built);
    return {
      takes: task.takes.length,
      legal: task.vocabulary.phrases.length,
      legalNext: task.next.phrases.length,
      quietRoom: await learn({ ...task, pauseMs: null }),
      spokenTo: await learn(task),
    };
  });
}

async function learn(task: LearningTask): Promise<object> {
  const result = await runInPage<LearningResult>(
    'tests/bench/learning-page.ts',
    'runLearning',
    task,
  );
  return {
    learntMs: Math.round(result.learntMs),
    sounds: result.sounds,
    signOfLifeMs: spread(result.signOfLifeMs),
    newVocabularyMs: Math.round(result.vocabularyMs),
    endOfSpeechToPhraseMs: {
      learning: spread(result.decidedMs),
      learnt: spread(result.decidedAfterMs),
    },
  };
}

function makeTask(built: BuiltProduct): LearningTask {
  const moments = listSpokenMoments(1).filter(({ procedure }) => procedure === PROCEDURE);
  const [busiest, ...others] = moments.toSorted((a, b) => b.legal.length - a.legal.length);
  const other = others.find(({ state }) => state !== busiest?.state);
  if (!busiest || !other) throw new Error('The procedure has too few moments');
  const texts = listCardTexts(PROCEDURE);
  return {
    ...built,
    vocabulary: vocabularyOf(other.legal),
    next: vocabularyOf(busiest.legal),
    takes: CARD_MANNERS.flatMap((manner) =>
      texts.map((text) => ({ text, pcm: [...soundToPcm(say(VOICE, text, manner))] })),
    ),
    utterances: ['what is next', 'say again'].map((words) => [
      ...say(VOICE, `${DEFAULT_ADDRESS_PHRASE} ${words}`),
    ]),
    pauseMs: 1_500,
  };
}
