import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readWav, REHEARSAL_CLIPS, RehearsalSpeaker } from '../../src/voice';
import { Resampler } from '../../src/voice/ear/resampler';

const CLIPS = fileURLToPath(new URL('../../src/voice/rehearsal-clips/', import.meta.url));
const readClip = async (file: string): Promise<Uint8Array> => readFileSync(CLIPS + file);

function sine(hz: number, rateHz: number, samples: number): Float32Array {
  return Float32Array.from({ length: samples }, (_, i) =>
    Math.sin((2 * Math.PI * hz * i) / rateHz),
  );
}

const rms = (sound: Float32Array): number =>
  Math.sqrt(sound.reduce((sum, x) => sum + x * x, 0) / sound.length);

function resample(sound: Float32Array, fromHz: number): Float32Array {
  const resampler = new Resampler(fromHz, 16_000);
  const out: number[] = [];
  for (let from = 0; from < sound.length; from += 128)
    out.push(...resampler.next(sound.slice(from, from + 128)));
  return Float32Array.from(out);
}

describe('resampling', () => {
  it.each([44_100, 48_000, 8_000])('[VOI8] keeps a 1 kHz tone from %i Hz as it was', (fromHz) => {
    const out = resample(sine(1000, fromHz, fromHz), fromHz);
    expect(Math.abs(out.length - 16_000)).toBeLessThan(60);
    // The same tone at the new rate, compared sample by sample past the filter's start.
    const wanted = sine(1000, 16_000, out.length);
    const difference = out.map((x, i) => x - (wanted[i] ?? 0)).slice(400, -400);
    expect(20 * Math.log10(rms(difference) / rms(wanted))).toBeLessThan(-50);
  });

  it('[VOI8] takes out what the lower rate can not hold', () => {
    const out = resample(sine(11_000, 48_000, 48_000), 48_000).slice(400, -400);
    expect(20 * Math.log10(rms(out) / Math.SQRT1_2)).toBeLessThan(-50);
  });

  it('[VOI8] leaves 16 kHz alone', () => {
    const sound = sine(440, 16_000, 1280);
    expect(resample(sound, 16_000)).toEqual(sound);
  });
});

describe('recordings', () => {
  it('[VOI14] has a readable recording for every line of the rehearsal', async () => {
    const speaker = new RehearsalSpeaker(readClip);
    expect(REHEARSAL_CLIPS.length).toBeGreaterThan(0);
    for (const clip of REHEARSAL_CLIPS) {
      const said = await speaker.say(clip.words, clip.speaker);
      expect(said.ok && said.value.length > 4000, clip.file).toBe(true);
    }
  });

  it('[VOI14] reports a missing or damaged recording', async () => {
    const missing = await new RehearsalSpeaker(readClip).say('never recorded', 'scrub');
    expect(missing).toMatchObject({ ok: false, error: { code: 'rehearsal-clip-missing' } });
    const clip = { words: 'a', speaker: 'scrub', file: 'a.wav', isTalk: false } as const;
    const damaged = new RehearsalSpeaker(async () => new Uint8Array(50), [clip]);
    expect(await damaged.say('a', 'scrub')).toMatchObject({ ok: false });
  });

  it('[VOI14] refuses a WAV file of another rate rather than hear it at the wrong speed', async () => {
    const [clip] = REHEARSAL_CLIPS;
    const bytes = Uint8Array.from(await readClip(clip?.file ?? ''));
    new DataView(bytes.buffer).setUint32(24, 8000, true);
    expect(() => readWav(bytes)).toThrow('16000 Hz');
  });
});
