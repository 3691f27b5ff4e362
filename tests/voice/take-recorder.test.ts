/**
 * Recordings for a voice card, cut and judged: real speech (the rehearsal's recordings) made
 * softer, louder, noisier and shorter by known amounts. dB as in IEC 60027-3: 20 log10.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { TakeFlaw } from '../../src/domain';
import { judgeTake, pcmToSound, readWav, TakeRecorder } from '../../src/voice';
import type { RecordedTake } from '../../src/voice';

const RATE = 16_000;
const CLIPS = new URL('../../src/voice/rehearsal-clips/', import.meta.url);
const clipOf = (words: string): Float32Array => {
  const clips = JSON.parse(readFileSync(new URL('manifest.json', CLIPS), 'utf8')) as {
    words: string;
    speaker: string;
    file: string;
  }[];
  const found = clips.find((clip) => clip.words === words && clip.speaker === 'surgeon');
  if (!found) throw new Error(`No clip of "${words}"`);
  return readWav(readFileSync(new URL(found.file, CLIPS)));
};
const SAID = clipOf('step done');
const TEXT = 'theatre wall step done';

/** Steady noise of a known level over the whole of a sound. */
function addNoise(sound: Float32Array, db: number): Float32Array {
  let seed = 7;
  // Uniform from -1 to 1 has a root mean square of 1/sqrt(3).
  const factor = 10 ** (db / 20) * Math.sqrt(3);
  return sound.map((sample) => {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
    return sample + (seed / 2_147_483_648 - 1) * factor;
  });
}

const scale = (sound: Float32Array, db: number): Float32Array =>
  sound.map((sample) => Math.max(-1, Math.min(1, sample * 10 ** (db / 20))));

function between(sound: Float32Array): Float32Array {
  const all = new Float32Array(RATE * 3 + sound.length);
  all.set(sound, RATE * 2);
  return all;
}

function record(sound: Float32Array): readonly RecordedTake[] {
  const takes: RecordedTake[] = [];
  const recorder = new TakeRecorder({
    onReading: () => undefined,
    onHearing: () => undefined,
    onTake: (take) => takes.push(take),
  });
  // As the microphone gives it: 20 ms at a time.
  for (let from = 0; from < sound.length; from += 320)
    recorder.push(sound.subarray(from, from + 320));
  return takes;
}

const judge = (sound: Float32Array, text = TEXT): readonly (TakeFlaw | null)[] =>
  record(sound).map(({ measure }) => judgeTake(measure, text));

describe('a recording for a voice card', () => {
  it('[CARD11] holds what was said, at the level at which it was said', () => {
    const takes = record(addNoise(between(SAID), -70));
    expect(takes).toHaveLength(1);
    const sound = pcmToSound(takes[0]?.pcm ?? new Int16Array(0));
    const peak = (all: Float32Array): number =>
      all.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    expect(peak(sound)).toBeCloseTo(peak(SAID), 2);
    expect(sound.length).toBeLessThan(SAID.length + RATE);
  });

  it.each<[string, (sound: Float32Array) => Float32Array, TakeFlaw | null]>([
    ['as it is in a quiet room', (sound) => addNoise(between(sound), -70), null],
    ['30 dB softer', (sound) => addNoise(between(scale(sound, -30)), -90), 'too-quiet'],
    ['30 dB louder than the scale holds', (sound) => addNoise(between(scale(sound, 30)), -70), 'clipped'],
    ['in noise 10 dB below it', (sound) => addNoise(between(sound), -30), 'noisy'],
    ['cut to 0.4 s, in which nobody says four words', (sound) => addNoise(between(sound.subarray(0, 0.4 * RATE)), -70), 'too-short'],
  ])('[CARD11] %s', (_, make, flaw) => {
    expect(judge(make(SAID))).toEqual([flaw]);
  }); // prettier-ignore

  it('[CARD11] that is far too long for its text is something else', () => {
    const talk = clipOf('could we have the light a little lower please');
    expect(judge(addNoise(between(talk), -70), 'two')).toEqual(['too-long']);
    const endless = new Float32Array(RATE * 9);
    for (let at = 0; at + SAID.length < endless.length; at += SAID.length) endless.set(SAID, at);
    expect(judge(addNoise(between(endless), -70))[0]).toBe('too-long');
  });

  it('[CARD11] is not made of a click or of silence', () => {
    const click = new Float32Array(RATE * 4);
    click.fill(0.9, RATE * 2, RATE * 2 + 200);
    expect(record(addNoise(click, -70))).toEqual([]);
    expect(record(addNoise(new Float32Array(RATE * 4), -60))).toEqual([]);
  });
});
