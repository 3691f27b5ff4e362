/**
 * Runs in the audio thread: brings the microphone to 16 kHz mono and sends pieces
 * of 20 ms straight to whoever holds the other end of the port. Nothing is kept.
 */
import { Resampler } from './resampler';

/** The audio thread's own globals, which the DOM typings leave out. */
declare const sampleRate: number;
declare function registerProcessor(name: string, processor: new () => object): void;
declare const AudioWorkletProcessor: new () => { readonly port: MessagePort };

const TARGET_HZ = 16_000;
/** How much sound goes in one message? 20 ms. */
const PIECE_SAMPLES = 320;

class Capture extends AudioWorkletProcessor {
  readonly #resampler = new Resampler(sampleRate, TARGET_HZ);
  #piece = new Float32Array(PIECE_SAMPLES);
  #filled = 0;
  #listener: MessagePort | null = null;

  constructor() {
    super();
    this.port.onmessage = ({ data }: MessageEvent<MessagePort>) => {
      this.#listener = data;
    };
  }

  /** Called by the browser for every 128 samples; true keeps it alive. */
  process([input]: Float32Array[][]): boolean {
    const mono = input?.[0];
    if (mono) for (const sample of this.#resampler.next(mono)) this.#take(sample);
    return true;
  }

  #take(sample: number): void {
    this.#piece[this.#filled] = sample;
    this.#filled += 1;
    if (this.#filled < PIECE_SAMPLES) return;
    this.#listener?.postMessage(this.#piece, [this.#piece.buffer]);
    this.#piece = new Float32Array(PIECE_SAMPLES);
    this.#filled = 0;
  }
}

registerProcessor('capture', Capture);
