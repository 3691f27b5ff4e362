/** Levels are checked against the arithmetic of sines: amplitude a has an RMS of a / √2. */
import { describe, expect, it } from 'vitest';
import type { SoundReading } from '../../src/domain';
import { amplify, Hearing, nextGainDb, SoundMeter } from '../../src/voice';
import type { Listener } from '../../src/voice';
import { hiss, join, loadFixture, vocabularyOf } from './real-listener';

const tone = (ms: number, amplitude: number): Float32Array =>
  Float32Array.from(
    { length: ms * 16 },
    (_, i) => amplitude * Math.sin((2 * Math.PI * 500 * i) / 16_000),
  );
const rmsDb = (amplitude: number): number => 20 * Math.log10(amplitude / Math.SQRT2);
/** White noise of that peak: power peak² / 3, of which the band 200 to 3,400 Hz holds 3,200 / 8,000. */
const steady = (ms: number, peak: number): Float32Array => {
  const unit = hiss(ms).map((x) => x / 5e-4);
  return unit.map((x) => x * peak);
};

function measure(sound: Float32Array, isPerson = true): readonly SoundReading[] {
  const meter = new SoundMeter();
  const readings: SoundReading[] = [];
  for (let from = 0; from + 160 <= sound.length; from += 160) {
    const reading = meter.next(sound.slice(from, from + 160), isPerson, 0);
    if (reading) readings.push(reading);
  }
  return readings;
}

describe('the sound meter', () => {
  it('[EAR6] reads four times a second: level, room and speech', () => {
    const readings = measure(join(steady(3000, 0.01), tone(800, 0.2), steady(1200, 0.01)));
    expect(readings).toHaveLength(20);
    const last = readings.at(-1);
    expect(last?.speechDb).toBeCloseTo(rmsDb(0.2), 0);
    const roomDb = 10 * Math.log10((0.01 ** 2 / 3) * (3200 / 8000));
    expect(Math.abs((last?.roomDb ?? 0) - roomDb)).toBeLessThan(3);
    expect(last?.quality).toBe('well');
  });

  it.each([
    ['not-yet', steady(3000, 0.01)],
    ['loud-room', steady(3000, 0.2)],
    ['loud-room', join(steady(3000, 0.2), steady(3000, 0.2).map((x, i) => x + 0.28 * Math.sin((2 * Math.PI * 500 * i) / 16_000)), steady(1200, 0.2))],
    ['faint', join(steady(3000, 0.0001), tone(800, 0.002), steady(1200, 0.0001))],
    // 9 dB above the room, and the room is quiet: -60 dB of full scale beside -69.
    ['faint', join(steady(3000, 0.001), tone(800, 0.0014), steady(1200, 0.001))],
    ['clipped', join(steady(3000, 0.01), tone(800, 3).map((x) => Math.max(-1, Math.min(1, x))), steady(1200, 0.01))],
  ] as const)('[EAR6] judges %s', (quality, sound) => {
    expect(measure(sound).at(-1)?.quality).toBe(quality);
  }); // prettier-ignore

  it('[EAR7] tells of clipping for five seconds, and not of one click', () => {
    const clipped = tone(300, 3).map((x) => Math.max(-1, Math.min(1, x)));
    const of = (sound: Float32Array) => measure(sound).filter(({ quality }) => quality === 'clipped').length;
    const told = of(join(steady(1000, 0.01), clipped, steady(8000, 0.01)));
    expect(told).toBeGreaterThanOrEqual(20);
    expect(told).toBeLessThanOrEqual(23);
    expect(of(join(steady(1000, 0.01), new Float32Array(2).fill(1), steady(3000, 0.01)))).toBe(0);
  }); // prettier-ignore

  it('[EAR6] does not take the wall for a person', () => {
    const sound = join(steady(3000, 0.01), tone(800, 0.2), steady(1200, 0.01));
    expect(measure(sound, false).at(-1)?.speechDb).toBeNull();
  });

  it('[EAR6] is not misled by one loud noise among people', () => {
    const said = join(tone(600, 0.1), steady(1000, 0.001));
    const sound = join(steady(2000, 0.001), said, said, tone(600, 0.9), steady(1000, 0.001), said);
    expect(measure(sound).at(-1)?.speechDb).toBeCloseTo(rmsDb(0.1), 0);
  });
});

describe('the gain', () => {
  it('[EAR5] is nothing for anyone who speaks at a usual level', () => {
    for (let speechDb = -38; speechDb <= -10; speechDb += 1)
      expect(nextGainDb(0, speechDb)).toBe(0);
    expect(nextGainDb(0, null)).toBe(0);
  });

  it('[EAR5] goes up to 24 dB and down to -6 dB, by 6 dB at a time', () => {
    let gain = 0;
    const up = Array.from({ length: 6 }, () => (gain = nextGainDb(gain, -80)));
    expect(up).toEqual([6, 12, 18, 24, 24, 24]);
    expect(nextGainDb(0, 0)).toBe(-6);
    expect(nextGainDb(24, -50)).toBe(18);
  });

  it('[EAR5] keeps the sound inside its scale', () => {
    const loud = amplify(Float32Array.from([0.5, -0.5, 0.01]), 20);
    expect([...loud].map((x) => Number(x.toFixed(3)))).toEqual([1, -1, 0.1]);
  });

  it.each([
    ['steady noise', steady(60_000, 0.0005)],
    ['strokes of a hammer', join(...Array.from({ length: 60 }, () => join(tone(80, 0.001), steady(900, 0.00002))))],
  ])('[EAR5] is not pumped by %s', async (_, sound) => {
    expect((await hearGains(sound)).gains.every((gain) => gain === 0)).toBe(true);
  }); // prettier-ignore

  it('[EAR5] comes for people who speak far too softly, and their speech is found', async () => {
    const said = join(loadFixture('slt-depth-two-four'), hiss(2000).map((x) => x / 10));
    const soft = join(hiss(2000), ...Array.from({ length: 8 }, () => said)).map((x) => x * 10 ** (-45 / 20));
    const { gains, asked } = await hearGains(soft);
    expect(gains[0]).toBe(0);
    expect(gains.at(-1)).toBeGreaterThan(15);
    expect(asked).toBeGreaterThan(0);
  }); // prettier-ignore
});

/** The gain over time, and how many utterances were found. */
async function hearGains(sound: Float32Array) {
  let asked = 0;
  const listener: Listener = {
    name: 'none',
    setVocabulary: async () => [],
    recognise: async () => {
      asked += 1;
      return { words: null, score: 0, listener: 'none', speechMs: 0, decisionMs: 0 };
    },
    close: async () => undefined,
  };
  const gains: number[] = [];
  const hearing = new Hearing(listener, {
    onPhrase: () => undefined,
    onHearing: () => undefined,
    onLevel: (_, { gainDb }) => gains.push(gainDb),
  });
  await hearing.setVocabulary(vocabularyOf(['depth two four']));
  await hearing.push(sound);
  return { gains, asked };
}
