import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadListener } from '../../src/cli/load-listeners';
import { addEcho, loudPower, makeNoise, mix } from '../../src/cli/noise-mix';
import { shareOfSecondVoice, TWO_VOICES_LIMITS } from '../../src/voice';
import type { Listener } from '../../src/voice';
import { ASTERISK, isHere, loadHuman, POCKETSPHINX } from './human-recordings';
import { hiss, join, loadFixture } from './real-listener';

const { likelyShare } = TWO_VOICES_LIMITS;
const FIXTURES = [
  'awb-depth-one-six', 'awb-depth-two-zero', 'awb-glenosphere-four-zero', 'kal16-screw-one-four',
  'rms-screw-four-zero', 'slt-depth-two-four',
]; // prettier-ignore

/** A buzz of this pitch, gliding by a part of it over a second: the source of every vowel. */
function buzz(pitchHz: number, glide: number): Float32Array {
  let phase = 0;
  return Float32Array.from({ length: 16_000 }, (_, index) => {
    phase += (pitchHz * (1 + (glide * index) / 16_000)) / 16_000;
    return [1, 2, 3, 4, 5, 6].reduce(
      (sum, k) => sum + (0.1 / k) * Math.sin(2 * Math.PI * k * phase),
      0,
    );
  });
}

/** Both at once, as loud as each other, with a quiet room before and after. */
function together(a: Float32Array, b: Float32Array): Float32Array {
  const gain = Math.sqrt(loudPower(a) / loudPower(b));
  const both = Float32Array.from(
    { length: Math.max(a.length, b.length) },
    (_, index) => 0.5 * ((a[index] ?? 0) + gain * (b[index] ?? 0)),
  );
  return inRoom(both);
}

function inRoom(sound: Float32Array): Float32Array {
  return join(hiss(250), sound, hiss(110));
}

describe('a second voice', () => {
  it('[VOI71] is found where two pitches move at once, and not where one does or both stand still as machines do', () => {
    // By arithmetic: sums of two nearly periodic sounds whose periods have no small whole ratio.
    for (const [one, two] of [[110, 190], [120, 205], [210, 165]] as const) {
      expect(shareOfSecondVoice(inRoom(buzz(one, 0.2)))).toBe(0);
      expect(shareOfSecondVoice(together(buzz(one, 0.2), buzz(two, -0.2)))).toBeGreaterThan(0.3);
      expect(shareOfSecondVoice(together(buzz(one, 0), buzz(two, 0)))).toBe(0);
    }
  }); // prettier-ignore

  it('[VOI71] is not what one voice leaves in an echo, in babble or over a drill', () => {
    const talk = [loadFixture('awb-talk'), loadFixture('rms-addressed-talk')];
    for (const [index, name] of FIXTURES.entries()) {
      const alone = inRoom(loadFixture(name));
      const rooms = [
        alone,
        addEcho(alone, index),
        mix(alone, makeNoise('babble', alone.length, index, talk), 10),
        mix(alone, makeNoise('drill', alone.length, index), 5),
        mix(alone, makeNoise('pink', alone.length, index), 5),
      ];
      for (const room of rooms) expect(shareOfSecondVoice(room)).toBeLessThan(likelyShare);
    }
  });

  it.skipIf(
    !isHere(ASTERISK, 'asterisk-core-sounds-en-wav') ||
      !isHere(POCKETSPHINX, 'pocketsphinx-testdata'),
  )('[VOI71] is found in most pairs of two people, never in one person alone', () => {
    // Human recordings: cards read by one speaker, numbers by another; 27 of 40 pairs measured.
    const cards = [1, 2, 3, 4, 5].map((card) =>
      loadHuman(POCKETSPHINX, `cards/00${card}.wav`, 16_000),
    );
    const numbers = Array.from({ length: 8 }, (_, digit) =>
      loadHuman(ASTERISK, `digits/${digit + 1}.wav`, 8_000),
    );
    for (const alone of [...cards, ...numbers])
      expect(shareOfSecondVoice(inRoom(alone))).toBeLessThan(likelyShare);
    const found = cards
      .flatMap((card) => numbers.map((number) => shareOfSecondVoice(together(card, number))))
      .filter((share) => share >= likelyShare);
    expect(found.length).toBeGreaterThanOrEqual(26);
  });
});

describe('two people with different sizes at the same time', () => {
  let listener: Listener;
  beforeAll(async () => {
    listener = await loadListener('both');
    const offer = (words: string, value: number) =>
      ({ words, order: { type: 'capture.offer', capture: 'depth' as never, value } }) as const;
    const phrases = [offer('depth two zero', 20), offer('depth two four', 24), offer('depth one six', 16), offer('screw four zero', 40)];
    await listener.setVocabulary({ addressPhrase: 'theatre wall', phrases });
  }, 60_000); // prettier-ignore
  afterAll(() => listener.close());

  it('[VOI70] are heard alone, and refused together', async () => {
    const [woman, ...men] = ['slt-depth-two-four', 'awb-depth-one-six', 'rms-screw-four-zero'].map(
      (name) => loadFixture(name),
    );
    if (!woman) throw new Error('No recordings');
    expect((await listener.recognise(inRoom(woman))).words).toBe('depth two four');
    // What they make of the words together may be talk to the wall; then it says nothing.
    let told = 0;
    for (const [index, man] of men.entries()) {
      expect((await listener.recognise(inRoom(man))).words).toBe(
        ['depth one six', 'screw four zero'][index],
      );
      const both = await listener.recognise(together(woman, man));
      expect(both.words).toBeNull();
      if (both.hasTwoVoices) told += 1;
    }
    expect(told).toBeGreaterThan(0);
  }, 60_000);
});
