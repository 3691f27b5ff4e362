/**
 * Recordings for a voice card out of the microphone's sound: cuts what is said, measures
 * each recording, and says what is wrong with it. The sound is kept as it came, without
 * gain, so that what was measured is what is kept. Pure: same sound, same recordings.
 */
import type { SoundReading, TakeFlaw } from '../../domain';
import { SAMPLE_RATE_HZ } from '../hearing/listener';
import { FAINT_DB, FULL_SCALE, loudMeanDb, SoundMeter } from '../hearing/sound-meter';
import { END_MS, UtteranceCutter } from '../hearing/utterances';
import type { Utterance } from '../hearing/utterances';
import { FRAME_SAMPLES, VoiceActivity } from '../hearing/voice-activity';
import { soundToPcm } from './voice-card';

/** How much of the silence after a recording stays? Soft endings need some, the rest is only room. */
const KEPT_TAIL_MS = 250;
/** How far above the room must an example be, in dB? Above the 10 dB at which hearing begins to part (sound-meter.ts): an example is heard with again and again. */
const LEAST_ABOVE_ROOM_DB = 15;
/** How many samples at the end of the scale are clipping, not a click? One in a thousand, as in the meter. */
const MOST_FULL_SHARE = 0.001;
/** How short can one word be, and each further one? A digit alone; hurried speech has some 200 ms a word (300 words a minute, from memory). */
const SHORTEST_MS = 100;
const SHORTEST_FURTHER_WORD_MS = 160;
/** How long may a text be, for each word and besides? Slow, with a pause: beyond that something else was said. */
const LONGEST_WORD_MS = 900;
const LONGEST_BESIDES_MS = 900;

/** What was measured of one recording. Levels in dB of full scale, in the band of speech. */
export interface TakeMeasure {
  readonly speechMs: number;
  readonly speechDb: number;
  readonly roomDb: number;
  /** Share of its samples at the end of the scale. */
  readonly fullShare: number;
  readonly isCut: boolean;
}

export interface RecordedTake {
  readonly pcm: Int16Array;
  readonly measure: TakeMeasure;
}

export interface TakeEvents {
  /** Four times a second. */
  onReading(reading: SoundReading): void;
  /** Speech began or ended. */
  onHearing(isHearing: boolean): void;
  onTake(take: RecordedTake): void;
}

export class TakeRecorder {
  readonly #cutter = new UtteranceCutter();
  readonly #meter = new SoundMeter();
  readonly #activity = new VoiceActivity();
  #levels: number[] = [];
  #roomDb = 0;
  #rest = new Float32Array(0);

  constructor(private readonly events: TakeEvents) {}

  /** Takes the next piece of sound, of any length: mono, 16 kHz, -1 to 1. */
  push(samples: Float32Array): void {
    const all = new Float32Array(this.#rest.length + samples.length);
    all.set(this.#rest);
    all.set(samples, this.#rest.length);
    let from = 0;
    for (; from + FRAME_SAMPLES <= all.length; from += FRAME_SAMPLES)
      this.#takeFrame(all.slice(from, from + FRAME_SAMPLES));
    this.#rest = all.slice(from);
  }

  #takeFrame(frame: Float32Array): void {
    const reading = this.#meter.next(frame, true, 0);
    if (reading) this.events.onReading(reading);
    const { isSpeech, levelDb, roomDb } = this.#activity.next(frame);
    const event = this.#cutter.next(frame);
    if (event?.type === 'began') {
      this.#levels = [];
      // The room as it was before: what is said now is not part of it.
      this.#roomDb = roomDb;
      this.events.onHearing(true);
    }
    if (this.#cutter.isOpen && isSpeech) this.#levels.push(levelDb);
    if (event?.type === 'dropped') this.events.onHearing(false);
    if (event?.type !== 'ended') return;
    this.events.onHearing(false);
    this.events.onTake(this.#toTake(event.utterance));
  }

  #toTake({ pcm, speechMs, isTooLong }: Utterance): RecordedTake {
    const tail = isTooLong ? 0 : ((END_MS - KEPT_TAIL_MS) * SAMPLE_RATE_HZ) / 1000;
    const kept = pcm.subarray(0, pcm.length - tail);
    const full = kept.reduce((sum, x) => sum + (Math.abs(x) >= FULL_SCALE ? 1 : 0), 0);
    const speechDb = loudMeanDb(this.#levels);
    const fullShare = full / kept.length;
    return {
      pcm: soundToPcm(kept),
      measure: { speechMs, speechDb, roomDb: this.#roomDb, fullShare, isCut: isTooLong },
    };
  }
}

/** What is wrong with a recording of a text; null where it is a good example. */
export function judgeTake(measure: TakeMeasure, text: string): TakeFlaw | null {
  const { speechMs, speechDb, roomDb, fullShare, isCut } = measure;
  const words = text.split(' ').length;
  if (fullShare > MOST_FULL_SHARE) return 'clipped';
  if (speechMs < SHORTEST_MS + (words - 1) * SHORTEST_FURTHER_WORD_MS) return 'too-short';
  if (isCut || speechMs > words * LONGEST_WORD_MS + LONGEST_BESIDES_MS) return 'too-long';
  if (speechDb < FAINT_DB) return 'too-quiet';
  return speechDb - roomDb < LEAST_ABOVE_ROOM_DB ? 'noisy' : null;
}
