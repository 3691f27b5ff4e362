/** How this theatre speaks with its wall; kept on this machine. */

/** How loud the wall is in a quiet room. */
export const VOLUMES = ['soft', 'normal', 'loud'] as const;
export type Volume = (typeof VOLUMES)[number];

export interface VoiceSettings {
  readonly volume: Volume;
  /** What one says first. Of the next case: a case keeps the phrase that it was opened with. */
  readonly addressPhrase: string;
  /** The key, or the pedal that sends it, which opens the ear instead of an address phrase; null where one is said. */
  readonly talkKey: string | null;
  /** Whether the browser's own recogniser is a third opinion, where it works on this machine. */
  readonly hasBrowserRecogniser: boolean;
}

/**
 * Whether the browser's own recogniser works on this machine. none: there is none;
 * no-promise: there is one, and it does not say where it works; unavailable: it says that
 * it can't work here in this language; downloadable, downloading: it could after fetching
 * a language pack; available: it can now.
 */
export type OnDeviceState =
  'none' | 'no-promise' | 'unavailable' | 'downloadable' | 'downloading' | 'available';

/** The keys that may open the ear: none that the desk or the browser has a use for. */
const TALK_KEYS = /^(F[2-4]|F[6-9]|F10|F1[3-9]|F2[0-4]|Home|End|Insert|Pause|ScrollLock)$/;

/** Whether a key (KeyboardEvent.key, W3C UI Events) may open the ear. */
export function canBeTalkKey(key: string): boolean {
  return TALK_KEYS.test(key);
}
