/**
 * The port every speech recogniser stands behind. Audio is mono float samples at
 * 16 kHz, -1 to 1. A listener only turns speech into a phrase of the vocabulary
 * it was given; what the phrase may do is decided elsewhere.
 */
import type { CardLearning, Fault, HeardPhrase, Vocabulary } from '../../domain';
import type { CardVoice } from '../cards/card-voice';

/** Samples per second that listeners take. */
export const SAMPLE_RATE_HZ = 16_000;

export interface Listener {
  readonly name: string;
  /** Replaces what may be heard from now on; gives a fault for each word it can't hear. */
  setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]>;
  /** Decides what one utterance (speech with a little silence around it) says. */
  recognise(utterance: Float32Array): Promise<HeardPhrase>;
  /** Learns from these voice cards, instead of earlier ones; left out where a listener can't learn. */
  setCards?(cards: readonly CardVoice[]): Promise<void>;
  /** How far that is; left out with `setCards`. Until it is done, it decides as without cards. */
  readonly learning?: CardLearning;
  /** Learns a little more, some 30 ms of work. */
  learnSome?(): Promise<void>;
  close(): Promise<void>;
}
