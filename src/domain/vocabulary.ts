/**
 * What may be said at this moment. The session makes it from the machine; a
 * listener turns it into a grammar; a phrase that comes back is looked up in it.
 * Words are lower case, separated by single spaces, without the address phrase.
 */
import type { Order } from './orders';

/** One phrase and the order it stands for. */
export interface SpokenOrder {
  readonly words: string;
  readonly order: Order;
}

export interface Vocabulary {
  /** What one says first, so that talk in the room is not taken for a command. */
  readonly addressPhrase: string;
  readonly phrases: readonly SpokenOrder[];
  /** Push to talk: set while nobody presses. Then nothing is heard. */
  readonly isShut?: boolean;
  /** How many entries the case had when this was made; tells a late phrase from a timely one. */
  readonly asOf?: number;
}

/** What a listener made of one stretch of speech. */
export interface HeardPhrase {
  /** Words without the address phrase; null where nothing legal was recognised. */
  readonly words: string | null;
  /**
   * Probability, 0 to 1, that the phrase given, or the first of the candidates, is what was
   * said, whichever listener gave it; fitted to outcomes. 0 where no phrase is given.
   */
  readonly score: number;
  readonly listener: string;
  /** Where the listeners doubt or differ: the phrases it may have been, to be shown and said again. */
  readonly candidates?: readonly string[];
  /** Set where two people spoke at once. */
  readonly hasTwoVoices?: true;
  /** Set where nothing was made out, nor what one says first: talk among people, or noise, and no fact of a case. */
  readonly isTalk?: true;
  /** Length of the speech in milliseconds. */
  readonly speechMs: number;
  /** From the end of the speech to this answer, in milliseconds. */
  readonly decisionMs: number;
  /** `asOf` of the vocabulary when the speech began: what its speaker could have seen. */
  readonly asOf?: number;
}
