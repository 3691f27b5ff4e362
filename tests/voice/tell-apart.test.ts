/**
 * How well phrases are told apart, on the rehearsal's recordings through the real phrase network.
 * What must come out is known from how the recordings were made, not from the measure.
 */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSpeechFile } from '../../src/cli/sound-files';
import { PhraseNetwork, readWav, resample, soundToPcm, tellApart } from '../../src/voice';
import type { CardTake } from '../../src/voice';

const CLIPS = new URL('../../src/voice/rehearsal-clips/', import.meta.url);
const clips = JSON.parse(readFileSync(new URL('manifest.json', CLIPS), 'utf8')) as {
  words: string;
  speaker: string;
  file: string;
}[];
/** A recording, said at another speed and pitch where asked for; `text` is what the card says it is. */
function takeOf(words: string, speed = 1, text = words): CardTake {
  const clip = clips.find((one) => one.words === words && one.speaker === 'surgeon');
  if (!clip) throw new Error(`No clip of "${words}"`);
  const sound = readWav(readFileSync(new URL(clip.file, CLIPS)));
  return { text, pcm: soundToPcm(speed === 1 ? sound : resample(sound, 16_000 * speed, 16_000)) };
}

let network: PhraseNetwork;
const hear = (pcm: Float32Array) => network.traitsOf(pcm);
beforeAll(async () => {
  network = await PhraseNetwork.create(readSpeechFile);
});
afterAll(() => network.close());

describe('the texts of a card', () => {
  it('[CARD13] said alike and unlike each other are told apart', async () => {
    const rows = await tellApart(hear, [
      takeOf('step done'), takeOf('step done', 1.06),
      takeOf('wrong cancel that'), takeOf('wrong cancel that', 1.06),
    ]); // prettier-ignore
    expect(rows.map(({ text, nearest, apart }) => [text, nearest, apart]).sort()).toEqual([
      ['step done', 'wrong cancel that', 'well'],
      ['wrong cancel that', 'step done', 'well'],
    ]);
  });

  it('[CARD13] of which one recording is really another text come first, as mixed up with it', async () => {
    const [worst, ...others] = await tellApart(hear, [
      takeOf('step done'), takeOf('wrong cancel that', 1.06, 'step done'),
      takeOf('wrong cancel that'), takeOf('wrong cancel that', 0.95),
      takeOf('screw locking'), takeOf('screw locking', 1.06),
    ]); // prettier-ignore
    expect(worst).toMatchObject({
      text: 'step done',
      nearest: 'wrong cancel that',
      apart: 'mixed-up',
    });
    expect(others.find(({ text }) => text === 'screw locking')?.apart).toBe('well');
  });

  it('[CARD13] read once, or all alone, are not judged', async () => {
    expect(await tellApart(hear, [takeOf('confirm')])).toEqual([
      { text: 'confirm', ownDistance: null, otherDistance: null, nearest: null, apart: 'once' },
    ]);
  });
});
