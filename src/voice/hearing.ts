/**
 * From a stream of sound to heard phrases: cuts utterances, asks the listener, and
 * decides when the speaker has finished. Recognition starts at the first pause; a
 * phrase that can't go on is taken soon after, anything else waits for a longer
 * silence, because "depth two" may still become "depth two four". Runs alike in a
 * worker and in Node. Silence is counted in samples, not by a clock.
 */
import type { Fault, HeardPhrase, Vocabulary } from '../domain';
import type { CardVoice } from './card-examples';
import { canGoOn } from './grammar';
import type { Listener } from './listener';
import { END_MS, PAUSE_MS, UtteranceCutter } from './utterances';
import type { Utterance } from './utterances';
import { FRAME_MS, FRAME_SAMPLES } from './voice-activity';

/** After how much silence is a whole phrase taken? Longer than a closure inside a word. */
const SETTLE_MS = 200;
/** For how long after the announcer is the room's echo not listened to? */
const ECHO_MS = 250;
/** Over how much sound is one reading of the level meter? Four a second. */
const LEVEL_MS = 250;

export interface HearingEvents {
  onPhrase(heard: HeardPhrase): void;
  /** Speech began or ended. */
  onHearing(isHearing: boolean): void;
  /** Level of the last quarter of a second, in dB of full scale. */
  onLevel(levelDb: number): void;
}

/** What the listener made of the utterance so far, and how long it took. */
interface Guess {
  readonly heard: HeardPhrase;
  readonly atSilenceMs: number;
}

export class Hearing {
  readonly #cutter = new UtteranceCutter();
  readonly #listener: Listener;
  readonly #events: HearingEvents;
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };
  #rest = new Float32Array(0);
  #guess: Guess | null = null;
  /** What the speaker could have seen when the speech began. */
  #begunAsOf: number | undefined;
  #isGated = false;
  #echoFrames = 0;
  #energy = 0;
  #energyFrames = 0;
  #queue: Promise<unknown> = Promise.resolve();

  constructor(listener: Listener, events: HearingEvents) {
    this.#listener = listener;
    this.#events = events;
  }

  /** Replaces what may be heard, also for an utterance under way. */
  setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    return this.#enqueue(async () => {
      this.#vocabulary = vocabulary;
      this.#guess = null;
      return this.#listener.setVocabulary(vocabulary);
    });
  }

  /** Replaces the voice cards that are learnt from. */
  setCards(cards: readonly CardVoice[]): Promise<void> {
    return this.#enqueue(async () => this.#listener.setCards?.(cards));
  }

  /** While the wall speaks, and a little after, nothing is heard. */
  gate(isSpeaking: boolean): void {
    if (isSpeaking) this.#giveUp();
    else if (this.#isGated) this.#echoFrames = ECHO_MS / FRAME_MS;
    this.#isGated = isSpeaking;
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
    this.#measureLevel(frame);
    if (this.#isGated) return;
    if (this.#echoFrames > 0) {
      this.#echoFrames -= 1;
      return;
    }
    const event = this.#cutter.next(frame);
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
        return this.#events.onHearing(false);
      case undefined:
        return;
    }
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
    if (this.#guess === null && !utterance.isTooLong) await this.#guessNow(utterance, END_MS);
    this.#guess ??= {
      heard: {
        words: null,
        score: 0,
        listener: this.#listener.name,
        speechMs: utterance.speechMs,
        decisionMs: 0,
      },
      atSilenceMs: 0,
    };
    this.#tell(utterance.isTooLong ? 0 : END_MS);
  }

  /** Reports the guess. The decision came when the silence was long enough and the work done. */
  #tell(silenceMs: number): void {
    const guess = this.#guess;
    this.#guess = null;
    this.#events.onHearing(false);
    if (guess === null) return;
    const decisionMs = Math.max(silenceMs, guess.atSilenceMs + guess.heard.decisionMs);
    const asOf = this.#begunAsOf;
    this.#events.onPhrase({ ...guess.heard, decisionMs, ...(asOf !== undefined && { asOf }) });
  }

  #giveUp(): void {
    this.#guess = null;
    if (this.#cutter.drop()) this.#events.onHearing(false);
  }

  #measureLevel(frame: Float32Array): void {
    for (const sample of frame) this.#energy += sample * sample;
    this.#energyFrames += 1;
    if (this.#energyFrames * FRAME_MS < LEVEL_MS) return;
    const mean = this.#energy / (this.#energyFrames * FRAME_SAMPLES);
    this.#events.onLevel(10 * Math.log10(mean + 1e-10));
    this.#energy = 0;
    this.#energyFrames = 0;
  }

  #enqueue<T>(task: () => Promise<T>): Promise<T> {
    const done = this.#queue.then(task);
    this.#queue = done.catch(() => undefined);
    return done;
  }
}
