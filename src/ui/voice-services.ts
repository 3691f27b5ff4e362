/** What the screen about the voice asks of the program. src/app gives the real thing. */
import type { Fault, OnDeviceState, VoiceSettings } from '../domain';

/** An address phrase that may be chosen, and how it did. */
export interface OfferedAddress {
  readonly address: string;
  /** Commands taken by the grammar alone, of those that were said. */
  readonly taken: number;
  readonly said: number;
  /** Activations by talk that was meant for nobody, in 30 minutes. */
  readonly falseActivations: number;
  /** What is said in a theatre and sounds nearest. */
  readonly nearest: string;
  /** Measured again with both listeners; null where only the grammar alone was. */
  readonly withBoth: { readonly taken: number; readonly said: number } | null;
}

export interface VoiceServices {
  settings(): VoiceSettings;
  onChange(callback: () => void): () => void;
  /** The fault says that the setting counts now but could not be kept. */
  change(change: Partial<VoiceSettings>): Promise<Fault | null>;
  readonly addresses: readonly OfferedAddress[];
  /** How many were measured; those that are not offered missed more or were heard where nobody said them. */
  readonly measuredCount: number;
  /** What else can be spoken to the wall (BCP 47), and what is said first there. */
  readonly otherLanguages: readonly { readonly tag: string; readonly addressPhrase: string }[];
  /** Whether the browser's own recogniser could be a third opinion here, in English. */
  browserRecogniser(): Promise<OnDeviceState>;
  /** Lets the browser fetch its language pack; a person asked for it. */
  installBrowserRecogniser(): Promise<OnDeviceState>;
  /** Says something as loud as it is set. */
  sayExample(): void;
}
