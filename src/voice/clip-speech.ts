/**
 * Speaks with recorded clips: small, the same on every machine, and there before
 * anybody installs a voice. A manifest tells which text has which file.
 */
import type { SpeechOutput } from './announcer';

/** Texts in their normal form, and the addresses of their clips. */
export type ClipUrls = ReadonlyMap<string, string>;

/** What is needed from the browser. */
export interface ClipPlatform {
  readonly context: Pick<
    AudioContext,
    'decodeAudioData' | 'createBufferSource' | 'destination' | 'resume'
  >;
  /** Whether the browser lets this page make sound: many ask for a first click. */
  isAllowedToPlay(): boolean;
  fetchBytes(url: string): Promise<ArrayBuffer>;
}

/** The form in which texts are looked up: lower case, single spaces, no ends. */
export function toClipKey(segment: string): string {
  return segment.trim().toLowerCase().replace(/\s+/g, ' ');
}

export class ClipSpeech implements SpeechOutput {
  readonly #urls: ClipUrls;
  readonly #platform: ClipPlatform;
  readonly #decoded = new Map<string, AudioBuffer>();
  #playing: AudioBufferSourceNode | null = null;
  #turn = 0;

  constructor(urls: ClipUrls, platform: ClipPlatform) {
    this.#urls = urls;
    this.#platform = platform;
  }

  /** False where there is no clip or no leave to play. Rejects where a clip that should be there can't be read. */
  async speak(segment: string): Promise<boolean> {
    const url = this.#urls.get(toClipKey(segment));
    if (url === undefined || !this.#platform.isAllowedToPlay()) return false;
    const turn = this.#turn;
    const buffer = this.#decoded.get(url) ?? (await this.#load(url));
    if (turn === this.#turn) await this.#play(buffer);
    return true;
  }

  cancel(): void {
    this.#turn += 1;
    this.#playing?.stop();
  }

  async #load(url: string): Promise<AudioBuffer> {
    const bytes = await this.#platform.fetchBytes(url);
    const buffer = await this.#platform.context.decodeAudioData(bytes);
    this.#decoded.set(url, buffer);
    return buffer;
  }

  async #play(buffer: AudioBuffer): Promise<void> {
    const { context } = this.#platform;
    await context.resume();
    const node = context.createBufferSource();
    node.buffer = buffer;
    node.connect(context.destination);
    this.#playing = node;
    await new Promise<void>((resolve) => {
      node.onended = () => resolve();
      node.start();
    });
    this.#playing = null;
  }
}
