/**
 * Theatre noise made by arithmetic, seeds fixed: pink noise, babble, suction hiss,
 * drill, hammering, monitor beeps, and a room's echo. 16 kHz. Levels: speech power is
 * taken over its loud frames, noise power over all of it.
 */
const RATE = 16_000;

export type NoiseName = 'pink' | 'babble' | 'suction' | 'drill' | 'hammer' | 'beeps' | 'mixed';

/** Numbers from -1 to 1 that are the same every time (linear congruence, as in C's rand). */
export function createRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2_147_483_648 - 1;
  };
}

/** `babble` needs talk to lay over itself; without it its part is silent. */
export function makeNoise(
  name: NoiseName,
  length: number,
  seed: number,
  talk: readonly Float32Array[] = [],
): Float32Array {
  if (name === 'mixed') {
    const parts = (['pink', 'babble', 'suction', 'drill', 'hammer', 'beeps'] as const).map((part) =>
      toPower(makeNoise(part, length, seed + part.length, talk), 1),
    );
    return sum(parts, length);
  }
  const random = createRandom(seed);
  if (name === 'babble') return babble(length, talk, random);
  const makers = { pink, suction, drill, hammer, beeps };
  const next = makers[name](random);
  return Float32Array.from({ length }, (_, index) => next(index / RATE));
}

/** Speech with noise so many dB below its loud tenth; the noise goes on over the whole sound. */
export function mix(sound: Float32Array, noise: Float32Array, snrDb: number): Float32Array {
  const speechPower = loudPower(sound);
  const scaled = toPower(noise, speechPower / 10 ** (snrDb / 10));
  return sound.map((x, index) => Math.max(-1, Math.min(1, 0.5 * (x + (scaled[index] ?? 0)))));
}

/** A small hard room: reflections that fade by 60 dB in 0.4 s. */
export function addEcho(sound: Float32Array, seed: number): Float32Array {
  const random = createRandom(seed);
  const out = new Float32Array(sound.length + RATE * 0.4);
  out.set(sound);
  for (let tap = 0; tap < 60; tap += 1) {
    const at = Math.round((0.004 + 0.396 * (tap / 60) + 0.003 * Math.abs(random())) * RATE);
    const gain = 0.35 * random() * 10 ** ((-3 * at) / (0.4 * RATE));
    for (let index = 0; index < sound.length; index += 1)
      out[at + index] = (out[at + index] ?? 0) + gain * (sound[index] ?? 0);
  }
  return out;
}

type Maker = (random: () => number) => (seconds: number) => number;

/** Paul Kellet's economy filter of white noise (a common recipe, published on music-dsp). */
const pink: Maker = (random) => {
  let [a, b, c] = [0, 0, 0];
  return () => {
    const white = random();
    a = 0.99765 * a + white * 0.099046;
    b = 0.963 * b + white * 0.2965164;
    c = 0.57 * c + white * 1.0526913;
    return a + b + c + white * 0.1848;
  };
};

/** Air in a narrow tube: noise with its low part taken off, gurgling slowly. */
const suction: Maker = (random) => {
  let before = 0;
  return (seconds) => {
    const white = random();
    const out = white - 0.85 * before;
    before = white;
    return out * (0.8 + 0.2 * Math.sin(2 * Math.PI * 3.1 * seconds));
  };
};

/** A motor of 190 turns a second under changing load: its harmonics and some noise. */
const drill: Maker = (random) => {
  let phase = 0;
  return (seconds) => {
    phase += (190 * (1 + 0.06 * Math.sin(2 * Math.PI * 0.7 * seconds))) / RATE;
    let out = 0.2 * random();
    for (let harmonic = 1; harmonic <= 20; harmonic += 1)
      out += Math.sin(2 * Math.PI * phase * harmonic) / Math.sqrt(harmonic);
    return out;
  };
};

/** Metal on metal, some two strokes a second. */
const hammer: Maker = (random) => (seconds) => {
  const since = seconds % 0.55;
  const ring = Math.sin(2 * Math.PI * 2350 * since) + Math.sin(2 * Math.PI * 3720 * since);
  return Math.exp(-since * 40) * (ring + random());
};

/** A monitor's beat: a short tone, 80 a minute. */
const beeps: Maker = () => (seconds) =>
  seconds % 0.75 < 0.09 ? Math.sin(2 * Math.PI * 880 * seconds) : 0;

function babble(length: number, talk: readonly Float32Array[], random: () => number): Float32Array {
  const out = new Float32Array(length);
  for (const piece of talk.slice(0, 12)) {
    const shift = Math.floor(Math.abs(random()) * piece.length);
    for (let index = 0; index < length; index += 1)
      out[index] = (out[index] ?? 0) + (piece[(index + shift) % piece.length] ?? 0);
  }
  return out;
}

function sum(parts: readonly Float32Array[], length: number): Float32Array {
  return Float32Array.from({ length }, (_, index) =>
    parts.reduce((total, part) => total + (part[index] ?? 0), 0),
  );
}

export function toPower(noise: Float32Array, power: number): Float32Array {
  const own = noise.reduce((total, x) => total + x * x, 0) / noise.length;
  const gain = own > 0 ? Math.sqrt(power / own) : 0;
  return noise.map((x) => x * gain);
}

/** Mean power of the louder half of the frames of 10 ms that are not near silence. */
export function loudPower(sound: Float32Array): number {
  const powers: number[] = [];
  for (let from = 0; from + 160 <= sound.length; from += 160)
    powers.push(sound.subarray(from, from + 160).reduce((total, x) => total + x * x, 0) / 160);
  powers.sort((a, b) => b - a);
  const audible = powers.filter((power) => power > (powers[0] ?? 0) / 1000);
  return audible.reduce((total, power) => total + power, 0) / Math.max(1, audible.length);
}
