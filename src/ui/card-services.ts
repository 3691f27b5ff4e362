/** What the screens about voice cards ask of the program. src/app gives the real thing. */
import type { Fault, Result } from '../domain';

/** A kept card, without its sound. */
export interface CardLine {
  readonly id: string;
  readonly label: string;
  /** BCP 47. */
  readonly language: string;
  readonly languageName: string;
  readonly version: number;
  readonly madeAt: number;
  /** What its phrases begin with; empty where they begin with nothing. */
  readonly addressPhrase: string;
  readonly takeCount: number;
  /** Why it can't be used; it can only be deleted. */
  readonly fault: Fault | null;
}

export interface CardServices {
  /** Every card on this machine, by role name. Fault: `voice-cards-not-kept`. */
  list(): Promise<Result<readonly CardLine[], Fault>>;
  /** Hands the card to the person as a file. */
  save(id: string): Promise<Fault | null>;
  /** Takes a card in from a file's text. */
  bring(text: string): Promise<Result<CardLine, Fault>>;
  /** Fault: `voice-card-in-use` while the open case was set up with it. */
  remove(id: string): Promise<Fault | null>;
  /** Why a card can't be used in the next case as the wall is set now, in words; null where it can. */
  whyUnfit(card: CardLine): string | null;
}
