/**
 * Cuts a stream of 10 ms frames into utterances: speech with a little silence
 * around it. A pause is announced early, so that recognition can run while it is
 * still unclear whether more follows; the utterance ends only after a longer
 * silence. Counts frames, reads no clock: same frames, same utterances.
 */
import { FAINTEST_DB, FRAME_MS, FRAME_SAMPLES, VoiceActivity } from './voice-activity';

/** How much sound from before the first speech frame belongs to the utterance? Soft onsets. */
const LEAD_MS = 250;
/**
 * How long is a word loud, and what is loud, in dB below its own loudest moment? A stroke of a
 * hammer or a beep is long only because it fades from so far above the room: of 247 strokes at
 * 10 dB none is loud for 100 ms, of 141 beeps (90 ms) 4 are, of 1,154 pieces of human digits 1 in 100 is not.
 */
const SHORTEST_LOUD_MS = 100;
const LOUD_WITHIN_DB = 15;
/** From which length on is it speech however soon it fades? Every stroke and beep was shorter: 160 ms. */
const LONG_MS = 200;
/**
 * From which height above the room on is so short a sound a stroke? What is fainter may be the
 * top of a word that the noise hides: counted as strokes, 2 of 68 commands at 5 dB were cut in two.
 */
const STROKE_DB = 20;
/**
 * After how much silence is a stroke over? It is forgotten then, instead of standing before what
 * somebody says; a first consonant that was taken for one is in the lead. Of words at any moment
 * of hammering 58 in 100 have a stroke before them with 100 ms, 18 with this.
 */
const STROKE_END_MS = 60;
/** How soon after speech does sound belong to it, however short? The burst that ends "eight"; later it has to be a word. */
const NEAR_MS = 250;
/** After how much silence is it worth guessing that the speaker has finished? Longer than a stop consonant. */
export const PAUSE_MS = 100;
/** After how much silence has the speaker surely finished? Longer than a pause between digits. */
export const END_MS = 600;
/** How long can one utterance be? Longer talk is not a command; it is cut and given up. */
const LONGEST_MS = 7_000;

/** One utterance so far. */
export interface Utterance {
  readonly pcm: Float32Array;
  /** From the first to the last frame of speech, in milliseconds. */
  readonly speechMs: number;
  readonly isTooLong: boolean;
}

/** What the latest frame changed. `silenceMs` counts from the last frame of speech. */
export type UtteranceEvent =
  | { readonly type: 'began' }
  | { readonly type: 'paused'; readonly utterance: Utterance }
  | { readonly type: 'silent'; readonly silenceMs: number }
  | { readonly type: 'resumed' }
  | { readonly type: 'ended'; readonly utterance: Utterance }
  | { readonly type: 'dropped' };

export class UtteranceCutter {
  readonly #activity = new VoiceActivity();
  #frames: Float32Array[] = [];
  #isOpen = false;
  /** Sound that may yet turn out to be a stroke: how far above the room each frame stood, in dB. Empty where there is none. */
  #unproven: number[] = [];
  #lastUnproven = 0;
  #hasWord = false;
  #firstSpeech = 0;
  #lastSpeech = 0;

  /** Takes the next 160 samples; null where nothing changed. */
  next(frame: Float32Array): UtteranceEvent | null {
    const { isSpeech, aboveDb } = this.#activity.next(frame);
    this.#frames.push(frame);
    if (!this.#isOpen) return this.#waitForSpeech(isSpeech, aboveDb);
    return isSpeech ? this.#takeSpeech(aboveDb) : this.#takeSilence();
  }

  /** Ends the utterance early: what it says is known. */
  finish(): void {
    this.#reset([]);
  }

  /** Gives up what is under way, as when the wall starts to speak. True where there was something. */
  drop(): boolean {
    const wasOpen = this.#isOpen;
    this.#activity.forgetSpeech();
    this.#reset([]);
    return wasOpen;
  }

  /** Whether an utterance is under way. */
  get isOpen(): boolean {
    return this.#isOpen;
  }

  /** From here on sound comes louder by so many dB; between utterances only. */
  shiftLevels(byDb: number): void {
    this.#activity.shiftLevels(byDb);
  }

  /** Takes only what is louder for speech; null for the usual limit. */
  listenAbove(levelDb: number | null): void {
    this.#activity.faintestDb = Math.max(FAINTEST_DB, levelDb ?? FAINTEST_DB);
  }

  #waitForSpeech(isSpeech: boolean, aboveDb: number): UtteranceEvent | null {
    if (!isSpeech) {
      if (this.#frames.length > LEAD_MS / FRAME_MS) this.#frames.shift();
      return null;
    }
    this.#isOpen = true;
    this.#firstSpeech = this.#frames.length - 1;
    this.#takeSpeech(aboveDb);
    return { type: 'began' };
  }

  #takeSpeech(aboveDb: number): UtteranceEvent | null {
    const hadPaused = this.#hasWord && this.#silenceMs() > PAUSE_MS;
    if (!this.#isProven(aboveDb)) return null;
    this.#lastSpeech = this.#frames.length - 1;
    if (this.#frames.length * FRAME_MS >= LONGEST_MS) return this.#end(true);
    return hadPaused ? { type: 'resumed' } : null;
  }

  /** Whether this sound is speech for sure: part of a word, or so near after one that it belongs to it. */
  #isProven(aboveDb: number): boolean {
    const isAlone = !this.#hasWord || this.#silenceMs() > NEAR_MS;
    if (!isAlone) return true;
    this.#unproven.push(aboveDb);
    this.#lastUnproven = this.#frames.length - 1;
    if (!isWord(this.#unproven)) return false;
    this.#unproven = [];
    this.#hasWord = true;
    return true;
  }

  #takeSilence(): UtteranceEvent | null {
    if (this.#unproven.length > 0) {
      const isStroke = Math.max(...this.#unproven) >= STROKE_DB;
      if (this.#hasWord && !isStroke) return this.#resume();
      if (this.#since(this.#lastUnproven) < (isStroke ? STROKE_END_MS : END_MS)) return null;
      this.#unproven = [];
    }
    if (!this.#hasWord) {
      this.#reset(this.#frames.slice(-LEAD_MS / FRAME_MS));
      return { type: 'dropped' };
    }
    const silenceMs = this.#silenceMs();
    if (silenceMs >= END_MS) return this.#end(false);
    if (silenceMs < PAUSE_MS) return null;
    return silenceMs === PAUSE_MS
      ? { type: 'paused', utterance: this.#toUtterance(false) }
      : { type: 'silent', silenceMs };
  }

  /** What was faint and short goes on with the words before it. */
  #resume(): UtteranceEvent {
    this.#unproven = [];
    this.#lastSpeech = this.#lastUnproven;
    return { type: 'resumed' };
  }

  #silenceMs(): number {
    return this.#since(this.#lastSpeech);
  }

  #since(frame: number): number {
    return (this.#frames.length - 1 - frame) * FRAME_MS;
  }

  #end(isTooLong: boolean): UtteranceEvent {
    const utterance = this.#toUtterance(isTooLong);
    this.#reset([]);
    return { type: 'ended', utterance };
  }

  #toUtterance(isTooLong: boolean): Utterance {
    const pcm = new Float32Array(this.#frames.length * FRAME_SAMPLES);
    this.#frames.forEach((frame, index) => pcm.set(frame, index * FRAME_SAMPLES));
    const speechMs = (this.#lastSpeech - this.#firstSpeech + 1) * FRAME_MS;
    return { pcm, speechMs, isTooLong };
  }

  #reset(frames: Float32Array[]): void {
    this.#frames = frames;
    this.#isOpen = false;
    this.#unproven = [];
    this.#hasWord = false;
  }
}

/** Whether sound that stood so far above the room, frame by frame, is more than a click, a stroke or a dropped clamp. */
function isWord(aboveDb: readonly number[]): boolean {
  if (aboveDb.length * FRAME_MS >= LONG_MS) return true;
  const loudDb = Math.max(...aboveDb) - LOUD_WITHIN_DB;
  return aboveDb.filter((db) => db >= loudDb).length * FRAME_MS >= SHORTEST_LOUD_MS;
}
