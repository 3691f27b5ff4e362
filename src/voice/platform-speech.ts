/**
 * Speaks with a voice of this machine. Only a local one: a voice that lives on a
 * server would send what is said in the theatre away.
 */
import type { SpeechOutput } from './announcer';

/** What is needed from the browser. */
export interface SpeechPlatform {
  readonly synthesis: Pick<SpeechSynthesis, 'getVoices' | 'speak' | 'cancel'>;
  createUtterance(text: string): SpeechSynthesisUtterance;
  /** How loud now, 0 to 1. */
  volume(): number;
}

export class PlatformSpeech implements SpeechOutput {
  readonly #platform: SpeechPlatform;

  constructor(platform: SpeechPlatform) {
    this.#platform = platform;
  }

  /** False where the machine has no English voice of its own, or it failed. */
  speak(segment: string): Promise<boolean> {
    const voice = this.#platform.synthesis
      .getVoices()
      .find(({ localService, lang }) => localService && lang.toLowerCase().startsWith('en'));
    if (!voice) return Promise.resolve(false);
    const utterance = this.#platform.createUtterance(segment);
    utterance.voice = voice;
    utterance.lang = voice.lang;
    utterance.volume = this.#platform.volume();
    return new Promise((resolve) => {
      utterance.onend = () => resolve(true);
      utterance.onerror = ({ error }) => resolve(error === 'canceled' || error === 'interrupted');
      this.#platform.synthesis.speak(utterance);
    });
  }

  cancel(): void {
    this.#platform.synthesis.cancel();
  }
}
