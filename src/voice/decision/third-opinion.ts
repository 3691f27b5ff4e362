/**
 * What the browser's own recogniser counts for: a third opinion. It may settle a doubt
 * between two phrases that the wall's own listeners named, and question a size that they
 * took; by itself it decides nothing.
 */
import { numberToDigitWords } from '../../domain';
import type { Fault, HeardPhrase, Scheduler, Vocabulary } from '../../domain';
import { BrowserRecogniser } from '../ear/browser-recogniser';
import type { RecogniserPlatform } from '../ear/browser-recogniser';
import { THIRD_OPINION_LIMITS } from './decision-limits';
import { splitWords } from '../grammar/grammar';
import { isSameOrder, isValue } from './rankings';

/** What the three make of an utterance; `alternatives` are the third one's, the likeliest first. Pure. */
export function decideWithThird(
  heard: HeardPhrase,
  alternatives: readonly string[],
  vocabulary: Vocabulary,
): HeardPhrase {
  const named = namedBy(alternatives, vocabulary);
  if (named === null || heard.hasTwoVoices) return heard;
  const { candidates, ...rest } = heard;
  if (heard.words === null) {
    const settled = candidates?.find((words) => isSameOrder(words, named, vocabulary));
    const isLikelier = settled === candidates?.[0];
    // Of two sizes only the one that the wall's own listeners found likelier.
    if (settled === undefined || (!isLikelier && isValue(named, vocabulary))) return heard;
    // What its word is worth was not measured, so it adds nothing; the other one has what is left.
    return { ...rest, words: settled, score: isLikelier ? heard.score : 1 - heard.score };
  }
  const isSize = isValue(heard.words, vocabulary) || isValue(named, vocabulary);
  return isSize && !isSameOrder(heard.words, named, vocabulary)
    ? { ...rest, words: null, candidates: [heard.words, named] }
    : heard;
}

/** The legal phrase that it heard behind the address phrase; null where it heard none. */
function namedBy(
  alternatives: readonly string[],
  { addressPhrase, phrases }: Vocabulary,
): string | null {
  for (const text of alternatives) {
    const said = toSpoken(text);
    const found = phrases.find(({ words }) => toSpoken(`${addressPhrase} ${words}`) === said);
    if (found) return found.words;
  }
  return null;
}

/** Words as the product writes them: small letters, numbers digit by digit, no stops. */
function toSpoken(text: string): string {
  const digits = text.replace(/\d+/g, (number) => ` ${numberToDigitWords(Number(number))} `);
  return splitWords(digits.toLowerCase().replace(/[.,!?]/g, ' ')).join(' ');
}

export class ThirdOpinion {
  readonly #recogniser: BrowserRecogniser;
  #vocabulary: Vocabulary | null = null;
  #open: { readonly track: MediaStreamTrack; readonly language: string } | null = null;
  #isOn = false;
  #alternatives: readonly string[] = [];
  /** Decides what waits for it. */
  #settle: () => void = () => undefined;

  constructor(
    platform: RecogniserPlatform,
    private readonly scheduler: Scheduler,
    /** Whether this theatre wants it. */
    private readonly isWanted: () => boolean,
    onFault: (fault: Fault) => void,
  ) {
    this.#recogniser = new BrowserRecogniser(platform, scheduler, {
      onWords: (alternatives) => {
        this.#alternatives = alternatives;
        this.#settle();
      },
      onFault,
    });
  }

  /** Hears the open microphone too, where it is wanted. */
  listenTo(track: MediaStreamTrack, language: string): void {
    this.stop();
    this.#open = { track, language };
    this.review();
  }

  /** The theatre may have changed its mind. */
  review(): void {
    const isOn = this.#open !== null && this.isWanted();
    if (isOn === this.#isOn) return;
    this.#isOn = isOn;
    if (isOn && this.#open) void this.#recogniser.start(this.#open.track, this.#open.language);
    else this.#recogniser.stop();
  }

  /** The microphone is closed. */
  stop(): void {
    this.#open = null;
    this.#alternatives = [];
    this.review();
  }

  setVocabulary(vocabulary: Vocabulary): void {
    this.#vocabulary = vocabulary;
    this.#recogniser.setVocabulary(vocabulary);
  }

  /** Somebody begins to speak: what was heard before was something else. */
  beginUtterance(): void {
    this.#alternatives = [];
  }

  /** Tells what all three make of it: at once, or, where there is a doubt to settle, a little later. */
  hear(heard: HeardPhrase, tell: (heard: HeardPhrase) => void): void {
    const vocabulary = this.#vocabulary;
    if (!vocabulary || !this.isWanted()) return tell(heard);
    const decide = (): HeardPhrase => decideWithThird(heard, this.#alternatives, vocabulary);
    const isDoubt = heard.words === null && heard.candidates !== undefined;
    if (!isDoubt || decide().words !== null) return tell(decide());
    const cancel = this.scheduler.after(THIRD_OPINION_LIMITS.patienceMs, () => {
      finish(heard);
    });
    const finish = (decided: HeardPhrase): void => {
      cancel();
      this.#settle = () => undefined;
      tell(decided);
    };
    this.#settle = () => {
      if (decide().words !== null) finish(decide());
    };
  }
}
