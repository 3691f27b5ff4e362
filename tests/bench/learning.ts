/**
 * `npm run bench -- learning`: a whole voice card (what the product asks somebody to read,
 * twice, a synthetic voice) learnt by the built product's worker in Chromium, first in one moment
 * of a procedure and half-way in its busiest: how long it takes in a quiet room and
 * while somebody speaks, and how long speech, a new vocabulary and the question whether
 * anybody is there wait for it. Times in milliseconds of this machine as busy as it is.
 */
import { chromium } from '@playwright/test';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { buildIfOlder } from '../../src/cli/build';
import { CHROMIUM_PATH } from '../../src/cli/debian-packages';
import { ROOT } from '../../src/cli/run-program';
import { DEFAULT_ADDRESS_PHRASE, soundToPcm } from '../../src/voice';
import { bundle, openBundledPage } from '../browser/bundled-page';
import { CHROMIUM_ARGS } from '../browser/chromium-args';
import { listCardTexts } from './held-out/desk-card';
import { say } from './held-out/memory';
import { listSpokenMoments, vocabularyOf } from './held-out/moments';
import type { LearningResult, LearningTask } from './learning-page';
import { spread } from './spread';

const PORT = 4_379;
const ADDRESS = `http://localhost:${PORT}/`;
/** The built-in procedure with the largest card and the busiest moment. */
const PROCEDURE = 'reverse-shoulder';
const VOICE = 'flite awb';
const CARD_MANNERS = [{ tempo: 0.95, cents: -30 }, { tempo: 1.05, cents: 40 }] as const; // prettier-ignore

export async function benchLearning(): Promise<object> {
  if ((await buildIfOlder()) !== 0) throw new Error('The product does not build');
  const task = makeTask();
  const server = spawn(process.execPath, ['--import', 'tsx', 'src/cli/main.ts', 'serve'], {
    cwd: ROOT,
    env: { ...process.env, PORT: String(PORT) },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  try {
    await once(server.stdout, 'data');
    return {
      takes: task.takes.length,
      legal: task.vocabulary.phrases.length,
      legalNext: task.next.phrases.length,
      quietRoom: await learn({ ...task, pauseMs: null }),
      spokenTo: await learn(task),
    };
  } finally {
    server.kill();
  }
}

async function learn(task: LearningTask): Promise<object> {
  const browser = await chromium.launch({
    executablePath: CHROMIUM_PATH,
    args: [...CHROMIUM_ARGS],
  });
  try {
    const script = await bundle('tests/bench/learning-page.ts');
    const page = await openBundledPage(await browser.newContext(), ADDRESS, script);
    const result = await page.evaluate(
      (given) =>
        (Reflect.get(globalThis, 'runLearning') as (task: unknown) => Promise<LearningResult>)(
          given,
        ),
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
  } finally {
    await browser.close();
  }
}

function makeTask(): LearningTask {
  const moments = listSpokenMoments(1).filter(({ procedure }) => procedure === PROCEDURE);
  const [busiest, ...others] = moments.toSorted((a, b) => b.legal.length - a.legal.length);
  const other = others.find(({ state }) => state !== busiest?.state);
  if (!busiest || !other) throw new Error('The procedure has too few moments');
  const texts = listCardTexts(PROCEDURE);
  const worker = readdirSync(path.join(ROOT, 'dist/assets')).find((name) =>
    /^listener\.worker-.*\.js$/.test(name),
  );
  return {
    workerUrl: `${ADDRESS}assets/${worker ?? ''}`,
    siteBase: ADDRESS,
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
