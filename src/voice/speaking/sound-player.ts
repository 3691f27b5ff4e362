/**
 * Plays one sound at a time, as loud as the room asks for. Cut short it fades within a
 * few hundredths of a second: a click would be a sound of its own.
 */

/** How long does a cut take, in seconds? */
const FADE_S = 0.04;

/** What is needed from the browser. */
export interface PlayerPlatform {
  readonly context: Pick<
    AudioContext,
    | 'createBufferSource'
    | 'createBuffer'
    | 'createGain'
    | 'currentTime'
    | 'decodeAudioData'
    | 'destination'
    | 'resume'
    | 'sampleRate'
  >;
  /** Whether the browser lets this page make sound: many ask for a first click. */
  isAllowedToPlay(): boolean;
  /** How loud now, in dB; 0 is the recording as it is. */
  gainDb(): number;
}

export class SoundPlayer {
  readonly #platform: PlayerPlatform;
  #playing: { readonly node: AudioBufferSourceNode; readonly gain: GainNode } | null = null;

  constructor(platform: PlayerPlatform) {
    this.#platform = platform;
  }

  /** Samples per second that sounds are made for. */
  get rateHz(): number {
    return this.#platform.context.sampleRate;
  }

  isAllowedToPlay(): boolean {
    return this.#platform.isAllowedToPlay();
  }

  decode(bytes: ArrayBuffer): Promise<AudioBuffer> {
    return this.#platform.context.decodeAudioData(bytes);
  }

  /** Samples from -1 to 1 as a sound. */
  make(samples: Float32Array<ArrayBuffer>): AudioBuffer {
    const buffer = this.#platform.context.createBuffer(1, samples.length, this.rateHz);
    buffer.copyToChannel(samples, 0);
    return buffer;
  }

  /** Resolves at the end of the sound, or when it has been cut. The loudness stays as it was at the start. */
  async play(buffer: AudioBuffer): Promise<void> {
    const { context, gainDb } = this.#platform;
    await context.resume();
    const node = context.createBufferSource();
    const gain = context.createGain();
    gain.gain.value = 10 ** (gainDb() / 20);
    node.buffer = buffer;
    node.connect(gain).connect(context.destination);
    const playing = { node, gain };
    this.#playing = playing;
    await new Promise<void>((resolve) => {
      node.onended = () => resolve();
      node.start();
    });
    // One that was cut still fades while the next one plays: that one stays in hand.
    if (this.#playing === playing) this.#playing = null;
  }

  /** Cuts what plays; nothing where nothing does. */
  cancel(): void {
    if (!this.#playing) return;
    const { node, gain } = this.#playing;
    const now = this.#platform.context.currentTime;
    gain.gain.setTargetAtTime(0, now, FADE_S / 4);
    node.stop(now + FADE_S);
  }
}
