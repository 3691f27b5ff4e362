/** What the screen about the voice asks of the program. src/app gives the real thing. */
import type { Fault, OnDeviceState, VoiceSettings } from '../domain';

/** An address phrase that may be chosen, and how it did. */
export interface OfferedAddress {
  readonly address: string;
  /** Commands taken rightly, of those that were said: in a quiet room, in noise, in loud noise. */
  readonly right: { readonly quiet: number; readonly noise: number; readonly loudNoise: number };
  readonly said: number;
  /** Commands taken for another one, of three times those that were said. */
  readonly wrong: number;
  /** Activations by talk that was meant for nobody, in so many minutes. */
  readonly falseActivations: number;
  readonly talkMinutes: number;
  /** What is said in a theatre and sounds nearest. */
  readonly nearest: string;
}

/** A phrase that was measured and is not offered. */
export interface FailedAddress {
  readonly address: string;
  readonly fault: 'missed' | 'missed-in-noise' | 'heard-in-talk';
}

export interface VoiceServices {
  settings(): VoiceSettings;
  onChange(callback: () => void): () => void;
  /** The fault says that the setting counts now but could not be kept. */
  change(change: Partial<VoiceSettings>): Promise<Fault | null>;
  readonly addresses: readonly OfferedAddress[];
  /** What was measured beside them and failed. */
  readonly failedAddresses: readonly FailedAddress[];
  /** What else can be spoken to the wall (BCP 47), and what is said first there. */
  readonly otherLanguages: readonly { readonly tag: string; readonly addressPhrase: string }[];
  /** Whether the browser's own recogniser could be a third opinion here, in English. */
  browserRecogniser(): Promise<OnDeviceState>;
  /** Lets the browser fetch its language pack; a person asked for it. */
  installBrowserRecogniser(): Promise<OnDeviceState>;
  /** Says something as loud as it is set. */
  sayExample(): void;
}
