/**
 * What the wall's sounds must not be: pulses of an alarm signal. The figures of IEC
 * 60601-1-8 (auditory alarm signals) are from memory and to be checked against a copy:
 * bursts of 3 or 10 pulses, of 1 or 2 at low priority; a pulse of 75 to 250 ms, at low
 * and medium priority 125 ms or more; fundamental 150 to 1,000 Hz; at least four
 * harmonics of it from 300 to 4,000 Hz within 15 dB of the fundamental.
 */
import { describe, expect, it } from 'vitest';
import { EARCONS } from '../../src/domain';
import { makeEarcon } from '../../src/voice';

const RATE_HZ = 48_000;

/** Power at one frequency (discrete Fourier transform, straight from its definition). */
function powerAt(samples: Float32Array, hz: number): number {
  let [re, im] = [0, 0];
  samples.forEach((x, index) => {
    const angle = (2 * Math.PI * hz * index) / RATE_HZ;
    re += x * Math.cos(angle);
    im -= x * Math.sin(angle);
  });
  return re * re + im * im;
}

const BAND_HZ = Array.from({ length: 400 }, (_, index) => 10 * (index + 1));

describe('earcons', () => {
  it.each(EARCONS)(
    '[VOI42] "%s" is one short sound: shorter than a pulse of low or medium priority, with one peak',
    (earcon) => {
      const samples = makeEarcon(earcon, RATE_HZ);
      expect((samples.length / RATE_HZ) * 1000).toBeLessThan(125);
      // Loudness over 2 ms: it rises once and falls once.
      const loudness = Array.from({ length: Math.floor(samples.length / 96) }, (_, index) =>
        Math.max(...samples.subarray(index * 96, (index + 1) * 96).map(Math.abs)),
      );
      const top = loudness.indexOf(Math.max(...loudness));
      expect(loudness.slice(0, top + 1)).toEqual(
        loudness.slice(0, top + 1).toSorted((a, b) => a - b),
      );
      expect(loudness.slice(top)).toEqual(loudness.slice(top).toSorted((a, b) => b - a));
    },
  );

  it.each(EARCONS)(
    '[VOI42] "%s" is pure and lies above the band of an alarm’s fundamental',
    (earcon) => {
      const samples = makeEarcon(earcon, RATE_HZ);
      const powers = BAND_HZ.map((hz) => ({ hz, power: powerAt(samples, hz) }));
      const strongest = powers.reduce((a, b) => (b.power > a.power ? b : a));
      expect(strongest.hz).toBeGreaterThan(1000);
      // No harmonic of any order comes within 15 dB of it.
      for (const order of [2, 3, 4, 5])
        expect(powerAt(samples, strongest.hz * order)).toBeLessThan(strongest.power / 10 ** 1.5);
    },
  );

  it('[VOI42] no two of them glide alike, and all are softer than the words', () => {
    const halves = EARCONS.map((earcon) => {
      const samples = makeEarcon(earcon, RATE_HZ);
      const pitchOf = (part: Float32Array) =>
        BAND_HZ.reduce((a, b) => (powerAt(part, b) > powerAt(part, a) ? b : a));
      const early = pitchOf(samples.subarray(0, samples.length / 4));
      const late = pitchOf(samples.subarray(samples.length / 4, samples.length / 2));
      return Math.sign(Math.round((late - early) / 50));
    });
    expect(new Set(halves).size).toBe(EARCONS.length);
    for (const earcon of EARCONS)
      // The words' recordings peak 6 dB below full scale (src/cli/make-clips.ts).
      expect(Math.max(...makeEarcon(earcon, RATE_HZ))).toBeLessThan(10 ** (-12 / 20));
  });
});
