/** A card of one synthetic voice (Debian package flite), asked before and after it is learnt. */
import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadBoth } from '../../src/cli/load-listeners';
import { synthesise } from '../../src/cli/spoken-voices';
import { learnAll, soundToPcm } from '../../src/voice';
import { hiss, join, vocabularyOf } from './real-listener';

const isFliteHere = existsSync('/usr/bin/flite');
if (!isFliteHere) console.log('skipped: Debian package flite is not installed');

describe.skipIf(!isFliteHere)('the real listeners with a card that is half learnt', () => {
  it('[CARD19] hear as without a card, and with the whole card from when it is learnt', async () => {
    const [both, bare] = [await loadBoth(), await loadBoth()];
    const words = ['depth two four', 'depth two eight', 'step done'];
    for (const one of [both, bare]) await one.setVocabulary(vocabularyOf(words));
    const say = (text: string, tempo: number) => synthesise('flite slt', text, { tempo, cents: 0 });
    const texts = ['theatre wall depth', 'two', 'four', 'eight', 'theatre wall step done'];
    const takes = [0.95, 1.05].flatMap((tempo) =>
      texts.map((text) => ({ text, pcm: soundToPcm(say(text, tempo)) })),
    );
    await both.setCards([{ label: 'surgeon A', takes }]);
    expect(both.learning).toEqual({ done: 0, total: 14 });
    const sound = join(hiss(300), say('theatre wall depth two four', 1), hiss(300));
    const without = (await bare.recognise(sound)).score;
    // All recordings and one of two examples of the first size.
    for (let piece = 0; piece < 11; piece += 1) await both.learnSome();
    const half = await both.consider(sound);
    expect([half.ranked, half.knows('depth two four')]).toEqual([[], false]);
    expect((await both.recognise(sound)).score).toBe(without);

    await learnAll(both);
    const whole = await both.consider(sound);
    expect(whole.ranked.map((one) => one.words)).toEqual(words);
    expect(whole.knows('depth two four')).toBe(true);

    // What was learnt is there again with the same card, and where the moment comes back.
    await both.setCards([{ label: 'surgeon A', takes: takes.map((take) => ({ ...take })) }]);
    expect(both.learning).toEqual({ done: 14, total: 14 });
    await both.setVocabulary(vocabularyOf(['step done']));
    await both.setVocabulary(vocabularyOf(words));
    expect(both.learning).toEqual({ done: 14, total: 14 });
    expect((await both.consider(sound)).ranked).toEqual(whole.ranked);
    await Promise.all([both.close(), bare.close()]);
  }, 60_000);
});
