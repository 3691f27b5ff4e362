/**
 * Phrases of the built-in procedures through all listeners, spoken by a voice that no
 * example was made from and no threshold set with (flite's awb, a Scottish speaker; Debian
 * package flite). Every command, and the first and last value of every size, each
 * with all that is legal in its busiest moment. `npm run bench -- voice` has all values,
 * more voices, and noise; the least right leaves room below what was measured (docs/voice.md).
 */
import { existsSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadListener } from '../../src/cli/load-listeners';
import { synthesise } from '../../src/cli/spoken-voices';
import { DEFAULT_ADDRESS_PHRASE } from '../../src/voice';
import type { Listener } from '../../src/voice';
import { isValue, listSpokenMoments, vocabularyOf } from '../bench/held-out/moments';
import type { SpokenMoment } from '../bench/held-out/moments';
import { judge } from '../bench/held-out/tally';
import { hiss, join } from './real-listener';

const VOICE = 'flite awb';
/** Share of these phrases that must be right at the first try; 261 of 265 were (98.5 %). */
const LEAST_RIGHT = 0.97;

let listener: Listener;
beforeAll(async () => {
  listener = await loadListener('both');
});
afterAll(() => listener.close());

const isFliteHere = existsSync('/usr/bin/flite');
if (!isFliteHere) console.log('skipped: Debian package flite is not installed');

describe.skipIf(!isFliteHere)('a voice never used for examples', () => {
  it('[VOI61] is understood in every built-in procedure and never taken for another order', async () => {
    const chosen = chooseMoments();
    const wrong: string[] = [];
    let right = 0;
    let legal: SpokenMoment['legal'] | null = null;
    for (const moment of chosen) {
      if (legal !== moment.legal) await listener.setVocabulary(vocabularyOf(moment.legal));
      legal = moment.legal;
      const sound = synthesise(VOICE, `${DEFAULT_ADDRESS_PHRASE} ${moment.words}`);
      const heard = await listener.recognise(join(hiss(250), sound, hiss(110)));
      const outcome = judge(moment.words, legal, [heard]);
      if (outcome.kind === 'right') right += 1;
      if (outcome.kind === 'wrong') wrong.push(`${moment.words}: ${heard.words}`);
    }
    expect(chosen.length).toBeGreaterThan(150);
    expect(wrong).toEqual([]);
    expect(right / chosen.length).toBeGreaterThanOrEqual(LEAST_RIGHT);
  }, 1_800_000);
});

/** Each phrase once, where most is legal beside it; grouped so that the vocabulary changes seldom. */
function chooseMoments(): readonly SpokenMoment[] {
  const busiest = new Map<string, SpokenMoment>();
  for (const moment of listSpokenMoments(1)) {
    const known = busiest.get(moment.words);
    if (!known || known.legal.length < moment.legal.length) busiest.set(moment.words, moment);
  }
  const moments = [...busiest.values()].sort((a, b) => (a.words < b.words ? -1 : 1));
  const commands = moments.filter((moment) => !isOfSize(moment));
  const sizes = new Map<string, SpokenMoment[]>();
  for (const moment of moments.filter(isOfSize)) {
    const stem = moment.words.split(' ')[0] ?? '';
    sizes.set(stem, [...(sizes.get(stem) ?? []), moment]);
  }
  const ends = [...sizes.values()].flatMap((all) =>
    [...new Set([all[0], all.at(-1)])].flatMap((one) => one ?? []),
  );
  const order = new Map([...commands, ...ends].map(({ legal }, index) => [legal, index]));
  return [...commands, ...ends].sort(
    (a, b) => (order.get(a.legal) ?? 0) - (order.get(b.legal) ?? 0),
  );
}

function isOfSize({ words, legal }: SpokenMoment): boolean {
  return isValue(legal.find((spoken) => spoken.words === words));
}
