/** Pink noise (falling 3 dB an octave), the same every time, at a level below some speech. */

/** One-pole sections whose sum falls 3 dB an octave within 0.05 dB: P. Kellet's published filter. */
const SECTIONS = [
  [0.99886, 0.0555179],
  [0.99332, 0.0750759],
  [0.969, 0.153852],
  [0.8665, 0.3104856],
  [0.55, 0.5329522],
  [-0.7616, -0.016898],
] as const;

/** Adds noise to a sound, `snrDb` below the mean power of `speech`. */
export function addPinkNoise(
  sound: Float32Array,
  speech: Float32Array,
  snrDb: number,
): Float32Array {
  const noise = createPinkNoise(sound.length);
  const gain = Math.sqrt(power(speech) / power(noise)) * 10 ** (-snrDb / 20);
  return sound.map((sample, i) => sample + gain * (noise[i] ?? 0));
}

function createPinkNoise(samples: number): Float32Array {
  const state = SECTIONS.map(() => 0);
  let seed = 1;
  return Float32Array.from({ length: samples }, () => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
    const white = seed / 1_073_741_824 - 1;
    SECTIONS.forEach(([pole, gain], i) => {
      state[i] = pole * (state[i] ?? 0) + gain * white;
    });
    return state.reduce((sum, value) => sum + value, 0.5362 * white);
  });
}

function power(sound: Float32Array): number {
  return sound.reduce((sum, sample) => sum + sample * sample, 0) / sound.length;
}
