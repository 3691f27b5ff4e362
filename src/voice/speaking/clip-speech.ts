/**
 * Speaks with recorded clips: small, the same on every machine, and there before
 * anybody installs a voice. A manifest tells which text has which file; a text without
 * one is put together from the clips of its words, as the digits of a size are.
 */
import type { SpeechOutput } from './announcer';
import type { SoundPlayer } from './sound-player';

/** Texts in their normal form, and the addresses of their clips. */
export type ClipUrls = ReadonlyMap<string, string>;

/** What is needed from the browser. */
export interface ClipPlatform {
  readonly player: Pick<SoundPlayer, 'isAllowedToPlay' | 'play' | 'cancel' | 'decode'>;
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
  #turn = 0;

  constructor(urls: ClipUrls, platform: ClipPlatform) {
    this.#urls = urls;
    this.#platform = platform;
  }

  /** False where clips are missing or there is no leave to play. Rejects where a clip that should be there can't be read. */
  async speak(segment: string): Promise<boolean> {
    const urls = this.#find(segment);
    if (urls === null || !this.#platform.player.isAllowedToPlay()) return false;
    const turn = (this.#turn += 1);
    for (const url of urls) {
      const buffer = this.#decoded.get(url) ?? (await this.#load(url));
      if (turn === this.#turn) await this.#platform.player.play(buffer);
    }
    return true;
  }

  cancel(): void {
    this.#turn += 1;
    this.#platform.player.cancel();
  }

  /** The clip of the whole text, else one for each of its words; null where one of them is missing. */
  #find(segment: string): readonly string[] | null {
    const key = toClipKey(segment);
    const whole = this.#urls.get(key);
    if (whole !== undefined) return [whole];
    const words = key.split(' ').map((word) => this.#urls.get(word));
    return words.every((url) => url !== undefined) ? words : null;
  }

  async #load(url: string): Promise<AudioBuffer> {
    const bytes = await this.#platform.fetchBytes(url);
    const buffer = await this.#platform.player.decode(bytes);
    this.#decoded.set(url, buffer);
    return buffer;
  }
}
