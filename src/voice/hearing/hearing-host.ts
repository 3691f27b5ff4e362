/**
 * Where hearing runs: in this thread (Node) or in a worker (browser). The ear
 * talks to this port only. Pieces of sound are mono floats at 16 kHz.
 */
import type { Fault, Result, Vocabulary } from '../../domain';
import type { WallSpeech } from './barge-in';
import type { CardVoice } from '../cards/card-voice';
import type { HearingEvents } from './hearing';
import type { SpokenLanguage } from '../languages/languages';

/** Who speaks: in which language, and with which voice cards. */
export interface CaseVoices {
  readonly language: SpokenLanguage;
  readonly cards: readonly CardVoice[];
}

export interface HearingHostEvents extends HearingEvents {
  /** The listener died; another one is being started. What was being said, if anything, is lost. */
  onLostListener(wasHearing: boolean): void;
  /** The listener was started again; sound has to be connected anew. */
  onRestarted(): void;
  /** The listener is gone and stays gone until it is started again. */
  onFailed(fault: Fault): void;
}

export interface HearingHost {
  /** Loads the listener; a second call while it runs succeeds at once. */
  start(events: HearingHostEvents): Promise<Result<null, Fault>>;
  /** Gives a fault for each word that can't be heard; none before the start. Kept across restarts of a crashed listener. */
  setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]>;
  /**
   * What the listener shall know of whoever speaks: another language means another model
   * and takes effect at the next start. Kept across restarts of a crashed listener.
   */
  setVoices(voices: CaseVoices): Promise<void>;
  gate(isSpeaking: boolean, speech?: WallSpeech): void;
  /** Takes sound; resolves when it has been heard through. */
  push(pcm: Float32Array): Promise<void>;
  /** Takes sound from a port whose messages are pieces of sound, past the main thread. */
  listenTo(port: MessagePort): void;
  /** Replaces a listener that gives no sign of life, as after a crash. */
  restart(): void;
  close(): Promise<void>;
}
