/** What the screens about voice cards ask of the program. src/app gives the real thing. */
import type { Fault, Result, SoundReading, TakeFlaw } from '../domain';

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

/** One recording of one text: 16-bit samples at 16 kHz, mono. */
export interface PhraseTake {
  readonly text: string;
  readonly pcm: Int16Array;
}

/** A recording, and what is wrong with it; null where it is good. */
export interface JudgedTake extends PhraseTake {
  readonly flaw: TakeFlaw | null;
}

/** What a card shall be: a new one, or a new version of one that is here. */
export interface CardDraft {
  /** The card that it replaces; null for a new one. */
  readonly replaces: CardLine | null;
  readonly label: string;
  readonly language: string;
  readonly addressPhrase: string;
  /** Whether recordings of texts that were not read again stay. */
  readonly keepsRest: boolean;
}

/** What is read for a card, and what can be said with it. */
export interface CardPlan {
  readonly addressPhrase: string;
  /** As they are shown and read, in order. */
  readonly texts: readonly string[];
  /** Whole phrases for the test, as they are said, without what one says first. */
  readonly tries: readonly string[];
}

/** How well one text of a card is told apart from its nearest other one. */
export interface ApartLine {
  readonly text: string;
  readonly ownDistance: number | null;
  readonly otherDistance: number | null;
  readonly nearest: string | null;
  /** mixed-up: another text is nearer than one's own recordings; once: read only once. */
  readonly apart: 'well' | 'close' | 'mixed-up' | 'once';
}

/** What the listeners made of something said in the test. */
export interface TestHeard {
  /** Null where nothing was taken. */
  readonly words: string | null;
  /** What it may have been, where it was not sure. */
  readonly candidates: readonly string[];
  /** Whether two people spoke at once. */
  readonly isOfTwo: boolean;
}

export interface TakeWatcher {
  onReading(reading: SoundReading): void;
  onHearing(isHearing: boolean): void;
  onTake(take: JudgedTake): void;
  /** The microphone gives no sound, with the reason; null when it does again. */
  onFault(fault: Fault | null): void;
}

export interface TestWatcher {
  onState(state: 'starting' | 'listening' | 'hearing' | 'off'): void;
  onHeard(heard: TestHeard): void;
  onFault(fault: Fault): void;
}

export interface CardServices {
  /** Every card on this machine, by role name. Fault: `voice-cards-not-kept`. */
  list(): Promise<Result<readonly CardLine[], Fault>>;
  /** Hands the card to the person as a file. */
  save(id: string): Promise<Fault | null>;
  /** Takes a card in from a file's text. */
  bring(text: string): Promise<Result<CardLine, Fault>>;
  /** Fault: `voice-card-in-use` while the open case has heard with it. */
  remove(id: string): Promise<Fault | null>;
  /**
   * Why a card can't be used, in words; null where it can: in the next case as the wall is set
   * now, or in an open one where this is said first.
   */
  whyUnfit(card: CardLine, saidInCase?: string): string | null;
  /** The languages that can be spoken to the wall. */
  readonly languages: readonly { readonly tag: string; readonly name: string }[];
  /** What is read, with the sizes of one procedure. */
  plan(procedureId: string, language: string): Result<CardPlan, Fault>;
  /** Records; each recording is judged as one of the text that `textNow` gives. The function that comes back ends it. */
  record(textNow: () => string, watcher: TakeWatcher): Promise<Result<() => void, Fault>>;
  /** Keeps a card with these recordings, as its next version. */
  keep(draft: CardDraft, takes: readonly PhraseTake[]): Promise<Result<CardLine, Fault>>;
  /** Those told apart worst come first. Fault: `voice-card-not-compared`. */
  compare(id: string): Promise<Result<readonly ApartLine[], Fault>>;
  /** Listens with this card to the phrases of one procedure's plan. The function that comes back ends it. */
  test(id: string, procedureId: string, watcher: TestWatcher): Promise<Result<() => void, Fault>>;
}
