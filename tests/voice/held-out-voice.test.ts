/**
 * Every phrase of every built-in procedure through all listeners, by voices that nothing
 * was made from and no threshold set with, one after another (FIGURE_VOICES, Debian
 * packages flite and espeak-ng; festival's is left out, it takes a second a phrase), each
 * with all that is legal in its busiest moment. `npm run bench -- voice` has noise and the
 * voices apart; the least right leaves room below what was measured (docs/voice.md).
 */
import { existsSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadListener } from '../../src/cli/load-listeners';
import { FIGURE_VOICES, synthesise } from '../../src/cli/spoken-voices';
import { DEFAULT_ADDRESS_PHRASE } from '../../src/voice';
import type { Listener } from '../../src/voice';
import { listSpokenMoments, vocabularyOf } from '../bench/held-out/moments';
import type { SpokenMoment } from '../bench/held-out/moments';
import { judge } from '../bench/held-out/tally';
import { hiss, join } from './real-listener';

const VOICES = FIGURE_VOICES.filter((voice) => !voice.startsWith('festival'));
/** Share of these phrases that must be right at the first try; 785 of 802 were (97.9 %), the others asked again. */
const LEAST_RIGHT = 0.96;

let listener: Listener;
beforeAll(async () => {
  listener = await loadListener('both');
});
afterAll(() => listener.close());

const areVoicesHere = existsSync('/usr/bin/flite') && existsSync('/usr/bin/espeak-ng');
if (!areVoicesHere) console.log('skipped: Debian packages flite and espeak-ng are not installed');

describe.skipIf(!areVoicesHere)('voices never used for examples', () => {
  it('[VOI61] are understood in every phrase of every built-in procedure and never taken for another order', async () => {
    const chosen = chooseMoments();
    const wrong: string[] = [];
    let right = 0;
    let legal: SpokenMoment['legal'] | null = null;
    for (const [index, moment] of chosen.entries()) {
      if (legal !== moment.legal) await listener.setVocabulary(vocabularyOf(moment.legal));
      legal = moment.legal;
      const voice = VOICES[index % VOICES.length] ?? FIGURE_VOICES[0];
      const sound = synthesise(voice, `${DEFAULT_ADDRESS_PHRASE} ${moment.words}`);
      const heard = await listener.recognise(join(hiss(250), sound, hiss(110)));
      const outcome = judge(moment.words, legal, [heard]);
      if (outcome.kind === 'right') right += 1;
      if (outcome.kind === 'wrong') wrong.push(`${moment.words} by ${voice}: ${heard.words}`);
    }
    expect(chosen.length).toBeGreaterThan(800);
    expect(wrong).toEqual([]);
    expect(right / chosen.length).toBeGreaterThanOrEqual(LEAST_RIGHT);
  }, 1_800_000);
});

/** Each phrase of each procedure once, where most is legal beside it; grouped so that the vocabulary changes seldom. */
function chooseMoments(): readonly SpokenMoment[] {
  const busiest = new Map<string, SpokenMoment>();
  for (const moment of listSpokenMoments(1)) {
    const phrase = `${moment.procedure}: ${moment.words}`;
    const known = busiest.get(phrase);
    if (!known || known.legal.length < moment.legal.length) busiest.set(phrase, moment);
  }
  const moments = [...busiest.values()].sort((a, b) => (a.words < b.words ? -1 : 1));
  const order = new Map(moments.map(({ legal }, index) => [legal, index]));
  return moments.toSorted((a, b) => (order.get(a.legal) ?? 0) - (order.get(b.legal) ?? 0));
}
