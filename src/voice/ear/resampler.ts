/**
 * Brings sound of any rate to 16 kHz, piece by piece, with a windowed-sinc filter
 * (Hann window) cut off below the lower Nyquist rate. Where the rate is 16 kHz
 * already it passes sound through. Pure state; runs in the audio thread.
 */

/** How many zero crossings of the sinc on each side? Enough for 60 dB of alias rejection. */
const CROSSINGS = 12;
/** Which share of the lower Nyquist rate is kept? The rest is the filter's slope. */
const PASS_SHARE = 0.92;

export class Resampler {
  readonly #step: number;
  readonly #cutoff: number;
  readonly #reach: number;
  #buffer = new Float32Array(0);
  /** Position of the next output sample in the buffer, in input samples. */
  #position: number;

  /** `fromHz` is the rate of what comes in, `toHz` of what goes out. */
  constructor(fromHz: number, toHz: number) {
    this.#step = fromHz / toHz;
    this.#cutoff = Math.min(1, 1 / this.#step) * PASS_SHARE;
    this.#reach = this.#step === 1 ? 0 : Math.ceil(CROSSINGS / this.#cutoff);
    this.#buffer = new Float32Array(this.#reach);
    this.#position = this.#reach;
  }

  /** Takes the next piece; gives what can be said at the new rate so far. */
  next(piece: Float32Array): Float32Array {
    if (this.#step === 1) return piece.slice();
    const all = new Float32Array(this.#buffer.length + piece.length);
    all.set(this.#buffer);
    all.set(piece, this.#buffer.length);
    const last = all.length - this.#reach - 1;
    const count = Math.max(0, Math.floor((last - this.#position) / this.#step) + 1);
    const out = new Float32Array(count);
    for (let index = 0; index < count; index += 1) {
      out[index] = this.#sampleAt(all, this.#position);
      this.#position += this.#step;
    }
    const used = Math.max(0, Math.floor(this.#position) - this.#reach);
    this.#buffer = all.slice(used);
    this.#position -= used;
    return out;
  }

  #sampleAt(samples: Float32Array, position: number): number {
    const from = Math.ceil(position - this.#reach);
    const to = Math.floor(position + this.#reach);
    let sum = 0;
    for (let index = Math.max(0, from); index <= to; index += 1) {
      const distance = index - position;
      const window = 0.5 + 0.5 * Math.cos((Math.PI * distance) / (this.#reach + 1));
      sum += (samples[index] ?? 0) * this.#cutoff * sinc(distance * this.#cutoff) * window;
    }
    return sum;
  }
}

function sinc(x: number): number {
  return x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
}

/** Brings one whole sound to another rate. */
export function resample(sound: Float32Array, fromHz: number, toHz: number): Float32Array {
  if (fromHz === toHz) return sound;
  // The filter holds back its reach: silence after the sound pushes its end out.
  const padded = new Float32Array(sound.length + 400);
  padded.set(sound);
  return new Resampler(fromHz, toHz).next(padded);
}
