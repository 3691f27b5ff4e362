/**
 * `npm run bench -- decision [--timed N]`: from the end of speech to the decision in the built
 * product's worker in Chromium, spoken to in real time by held-out voices, with everything
 * legal that is legal in the flagship's busiest moment. By the worker's own account from the
 * last loud frame, and by the page's clock from the last piece of speech to the message; in
 * milliseconds of this machine as busy as it is.
 */
import { FIGURE_VOICES } from '../../src/cli/spoken-voices';
import { canGoOn, DEFAULT_ADDRESS_PHRASE } from '../../src/voice';
import type { DecisionTask, TimedPhrase } from './decision-page';
import { say } from './held-out/memory';
import { findBusiest, shuffle, vocabularyOf } from './held-out/moments';
import { spread } from './spread';
import { runInPage, withBuiltProduct } from './worker-in-chromium';

const USUAL = 106;

export async function benchDecision(options: readonly string[]): Promise<object> {
  const at = options.indexOf('--timed');
  const timed = at < 0 ? USUAL : Number(options[at + 1]);
  const { legal } = findBusiest();
  const vocabulary = vocabularyOf(legal);
  const phrases = shuffle(legal, 3).slice(0, timed);
  const utterances = phrases.map(({ words }, index) => {
    const voice = FIGURE_VOICES[index % FIGURE_VOICES.length] ?? FIGURE_VOICES[0];
    return [...say(voice, `${DEFAULT_ADDRESS_PHRASE} ${words}`)];
  });
  const all = await withBuiltProduct((built) => {
    const task: DecisionTask = { ...built, vocabulary, utterances };
    return runInPage<readonly TimedPhrase[]>('tests/bench/decision-page.ts', 'runDecision', task);
  });
  const right = all.filter(({ heard }, index) => heard?.words === phrases[index]?.words);
  // What can go on, or was not made out, waits 600 ms by rule.
  const settled = right.filter(({ heard }) => !canGoOn(heard?.words ?? '', vocabulary));
  return {
    legal: legal.length,
    said: all.length,
    right: right.length,
    ofWhatCannotGoOn: {
      byTheWorkersAccountMs: spread(settled.map(({ heard }) => heard?.decisionMs ?? 0)),
      byThePagesClockMs: spread(settled.map(({ waitedMs }) => waitedMs)),
    },
  };
}
