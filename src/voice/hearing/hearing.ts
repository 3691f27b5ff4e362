/**
 * From a stream of sound to heard phrases: cuts utterances, asks the listener, and
 * decides when the speaker has finished. Recognition starts at the first pause; a
 * phrase that can't go on is taken soon after, anything else waits for a longer
 * silence, because "depth two" may still become "depth two four". Runs alike in a
 * worker and in Node. Silence is counted in samples, not by a clock.
 */
import type { CardLearning, Fault, HeardPhrase, SoundReading, Vocabulary } from '../../domain';
import { amplify, nextGainDb } from './auto-gain';
import { isEchoOf, personLevelDb } from './barge-in';
import type { WallSpeech } from './barge-in';
import type { CardVoice } from '../cards/card-voice';
import { canGoOn } from '../grammar/grammar';
import { IdleLearning } from './idle-learning';
import type { Listener } from './listener';
import { SoundMeter } from './sound-meter';
import { END_MS, PAUSE_MS, UtteranceCutter } from './utterances';
import type { Utterance } from './utterances';
import { FRAME_MS, FRAME_SAMPLES } from './voice-activity';

/** After how much silence is a whole phrase taken? Longer than a closure inside a word. */
const SETTLE_MS = 200;
/** For how long after the announcer is the room's echo not listened to? */
const ECHO_MS = 250;

export interface HearingEvents {
  onPhrase(heard: HeardPhrase): void;
  /** Speech began or ended. */
  onHearing(isHearing: boolean): void;
  /** Level of the last quarter of a second, in dB of full scale, and how well that can be heard. */
  onLevel(levelDb: number, reading: SoundReading): void;
  /** How far the voice cards are learnt; left out where nobody looks. */
  onLearning?(learning: CardLearning): void;
}

/** What the listener made of the utterance so far, and how long it took. */
interface Guess {
  readonly heard: HeardPhrase;
  readonly atSilenceMs: number;
}

export class Hearing {
  readonly #cutter = new UtteranceCutter();
  readonly #meter = new SoundMeter();
  readonly #listener: Listener;
  readonly #events: HearingEvents;
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };
  #rest = new Float32Array(0);
  #guess: Guess | null = null;
  /** What the speaker could have seen when the speech began. */
  #begunAsOf: number | undefined;
  #gainDb = 0;
  #isSpeaking = false;
  /** Set where people are heard beside the wall's own voice. */
  #bargeIn: WallSpeech | null = null;
  #echoFrames = 0;
  /** What the wall said during the utterance under way; null where it was silent. */
  #overlap: readonly string[] | null = null;
  #queue: Promise<unknown> = Promise.resolve();
  #waiting = 0;
  readonly #learning: IdleLearning;

  constructor(listener: Listener, events: HearingEvents) {
    this.#listener = listener;
    this.#events = events;
    this.#learning = new IdleLearning(listener, {
      isIdle: () =>
        this.#waiting === 0 && (!this.#cutter.isOpen || this.#vocabulary.isShut === true),
      enqueue: (task) => this.#enqueue(task),
      onLearning: (learning) => this.#events.onLearning?.(learning),
    });
  }

  /** Learns no more. */
  close(): void {
    this.#learning.close();
  }

  /** Replaces what may be heard, also for an utterance under way. */
  setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    return this.#enqueue(async () => {
      const isOpening = this.#vocabulary.isShut === true && vocabulary.isShut !== true;
      // What was said before the key was pressed, and after it was let go, was meant for nobody.
      if (isOpening || vocabulary.isShut) this.#giveUp();
      this.#vocabulary = vocabulary;
      this.#guess = null;
      return this.#listener.setVocabulary(vocabulary);
    });
  }

  /** Replaces the voice cards that are learnt from. */
  setCards(cards: readonly CardVoice[]): Promise<void> {
    return this.#enqueue(async () => this.#listener.setCards?.(cards));
  }

  /** While the wall speaks, and a little after, nothing is heard, or only who speaks over it. */
  gate(isSpeaking: boolean, speech?: WallSpeech): void {
    const level = personLevelDb(this.#meter.speechDb, this.#gainDb);
    const canBargeIn = isSpeaking && speech?.isEchoCancelled === true && level !== null;
    if (isSpeaking && !canBargeIn) this.#giveUp();
    if (!isSpeaking && this.#isSpeaking) this.#echoFrames = ECHO_MS / FRAME_MS;
    // In the echo of its end the wall's words are still about: they are forgotten with the next start.
    if (isSpeaking) this.#bargeIn = canBargeIn ? speech : null;
    this.#isSpeaking = isSpeaking;
    if (isSpeaking) this.#cutter.listenAbove(canBargeIn ? level : null);
  }

  /** Takes the next piece of sound, of any length; resolves when it has been dealt with. */
  push(samples: Float32Array): Promise<void> {
    return this.#enqueue(async () => {
      const all = new Float32Array(this.#rest.length + samples.length);
      all.set(this.#rest);
      all.set(samples, this.#rest.length);
      let from = 0;
      for (; from + FRAME_SAMPLES <= all.length; from += FRAME_SAMPLES) {
        await this.#takeFrame(all.slice(from, from + FRAME_SAMPLES));
      }
      this.#rest = all.slice(from);
    });
  }

  async #takeFrame(frame: Float32Array): Promise<void> {
    this.#measure(frame);
    const isWallHeard = this.#isSpeaking || this.#echoFrames > 0;
    if (!this.#isSpeaking && this.#echoFrames > 0) this.#passEcho();
    if (isWallHeard && this.#bargeIn === null) return;
    const event = this.#cutter.next(amplify(frame, this.#gainDb));
    // The room is followed all the same: speech stands out against it from the first moment.
    if (this.#vocabulary.isShut) return;
    if (isWallHeard && this.#cutter.isOpen) this.#overlap = this.#bargeIn?.texts ?? [];
    switch (event?.type) {
      case 'began':
        this.#begunAsOf = this.#vocabulary.asOf;
        return this.#events.onHearing(true);
      case 'paused':
        return this.#guessNow(event.utterance, PAUSE_MS);
      case 'resumed':
        this.#guess = null;
        return;
      case 'silent':
        return this.#settle(event.silenceMs);
      case 'ended':
        return this.#finish(event.utterance);
      case 'dropped':
        this.#overlap = null;
        return this.#events.onHearing(false);
      case undefined:
        return;
    }
  }

  #passEcho(): void {
    this.#echoFrames -= 1;
    if (this.#echoFrames === 0) this.#cutter.listenAbove(null);
  }

  async #guessNow(utterance: Utterance, atSilenceMs: number): Promise<void> {
    const heard = await this.#listener.recognise(utterance.pcm);
    this.#guess = { heard: { ...heard, speechMs: utterance.speechMs }, atSilenceMs };
  }

  #settle(silenceMs: number): void {
    const words = this.#guess?.heard.words ?? null;
    if (silenceMs < SETTLE_MS || words === null || canGoOn(words, this.#vocabulary)) return;
    this.#cutter.finish();
    this.#tell(silenceMs);
  }

  async #finish(utterance: Utterance): Promise<void> {
    // Not made out at the first pause: noise may hide it, and with the room's sound after it words are found.
    if (!this.#guess?.heard.words && !utterance.isTooLong) await this.#guessNow(utterance, END_MS);
    this.#guess ??= await this.#guessWithoutEnd(utterance);
    this.#tell(utterance.isTooLong ? 0 : END_MS);
  }

  /** No command takes so long, and nothing of it is taken; but it may have begun as one. */
  async #guessWithoutEnd({ pcm, speechMs }: Utterance): Promise<Guess> {
    const { listener, decisionMs, isTalk } = await this.#listener.recognise(pcm);
    const heard = { words: null, score: 0, listener, speechMs, decisionMs };
    return { heard: { ...heard, ...(isTalk && { isTalk }) }, atSilenceMs: 0 };
  }

  /** Reports the guess. The decision came when the silence was long enough and the work done. */
  #tell(silenceMs: number): void {
    const guess = this.#guess;
    this.#guess = null;
    this.#events.onHearing(false);
    const overlap = this.#overlap;
    this.#overlap = null;
    if (guess === null || (overlap && isDoubtfulOver(overlap, guess.heard.words))) return;
    const decisionMs = Math.max(silenceMs, guess.atSilenceMs + guess.heard.decisionMs);
    const asOf = this.#begunAsOf;
    this.#events.onPhrase({ ...guess.heard, decisionMs, ...(asOf !== undefined && { asOf }) });
  }

  #giveUp(): void {
    this.#guess = null;
    this.#overlap = null;
    if (this.#cutter.drop()) this.#events.onHearing(false);
  }

  /** The gain changes only between utterances: within one it would change how it sounds. */
  #measure(frame: Float32Array): void {
    const reading = this.#meter.next(
      frame,
      !this.#isSpeaking && this.#echoFrames === 0,
      this.#gainDb,
    );
    if (!reading) return;
    if (!this.#cutter.isOpen) {
      const gainDb = nextGainDb(this.#gainDb, reading.speechDb);
      this.#cutter.shiftLevels(gainDb - this.#gainDb);
      this.#gainDb = gainDb;
    }
    this.#events.onLevel(reading.levelDb, reading);
  }

  #enqueue<T>(task: () => Promise<T>): Promise<T> {
    this.#waiting += 1;
    const done = this.#queue.then(task).finally(() => {
      this.#waiting -= 1;
      this.#learning.wake();
    });
    this.#queue = done.catch(() => undefined);
    return done;
  }
}

/** While the wall speaks, what was not made out is its own echo, and so is what it is saying. */
function isDoubtfulOver(texts: readonly string[], words: string | null): boolean {
  return words === null || isEchoOf(words, texts);
}
