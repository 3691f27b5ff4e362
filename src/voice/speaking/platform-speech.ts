/**
 * Speaks with a voice of this machine. Only a local one: a voice that lives on a
 * server would send what is said in the theatre away.
 */
import type { Scheduler } from '../../domain';
import type { SpeechOutput } from './announcer';

/** What is needed from the browser. */
export interface SpeechPlatform {
  readonly synthesis: Pick<
    SpeechSynthesis,
    'getVoices' | 'speak' | 'cancel' | 'addEventListener' | 'removeEventListener'
  >;
  createUtterance(text: string): SpeechSynthesisUtterance;
  readonly scheduler: Scheduler;
  /** How loud now, 0 to 1. */
  volume(): number;
}

/** How long may a browser take to find its voices, in milliseconds? Many look for them only when first asked. */
const VOICES_MS = 2_000;

export class PlatformSpeech implements SpeechOutput {
  readonly #platform: SpeechPlatform;
  /** Resolves when the browser has found voices, or found none in time. */
  readonly #voicesFound: Promise<void>;
  /** Counts cuts, so that what was cut while it waited is not spoken after. */
  #turn = 0;

  constructor(platform: SpeechPlatform) {
    this.#platform = platform;
    this.#voicesFound = waitForVoices(platform);
  }

  /** False where the machine has no English voice of its own, or it failed. */
  async speak(segment: string): Promise<boolean> {
    const turn = this.#turn;
    await this.#voicesFound;
    if (turn !== this.#turn) return true;
    const voice = this.#platform.synthesis
      .getVoices()
      .find(({ localService, lang }) => localService && lang.toLowerCase().startsWith('en'));
    if (!voice) return false;
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
    this.#turn += 1;
    this.#platform.synthesis.cancel();
  }
}

/** Asking for the voices makes some browsers begin to look for them; they tell when they have (Web Speech API). */
async function waitForVoices({ synthesis, scheduler }: SpeechPlatform): Promise<void> {
  if (synthesis.getVoices().length > 0) return;
  await new Promise<void>((resolve) => {
    const stop = scheduler.after(VOICES_MS, end);
    function end(): void {
      stop();
      synthesis.removeEventListener('voiceschanged', end);
      resolve();
    }
    synthesis.addEventListener('voiceschanged', end);
  });
}
