/**
 * Measures what the microphone gives: level, the room's own noise, how loud people
 * speak, and whether the sound is clipped; judges from these how well the wall can
 * hear. Takes sound as it comes, before any gain. Pure: same frames, same readings.
 */
import type { HearingQuality, SoundReading } from '../../domain';
import { FRAME_MS, FRAME_SAMPLES, VoiceActivity } from './voice-activity';

/** Over how much sound is one reading? Four a second. */
const READING_MS = 250;
/** Which level is too faint even for the greatest gain, in dB? */
const FAINTEST_DB = -86;
/** How much speech tells how loud somebody speaks? A dropped clamp is shorter. */
const SHORTEST_SPEECH_MS = 300;
/** After how much silence is a stretch of speech over? As an utterance. */
const END_MS = 600;
/** Over how many stretches of speech is the median taken? One loud noise must not count. */
const STRETCHES = 5;
/** Below which distance from the room is speech badly heard, in dB? docs/voice.md: the listeners begin to part at 10 dB. */
const LEAST_ABOVE_ROOM_DB = 10;
/** From which value on is a sample at the end of the scale? */
export const FULL_SCALE = 0.985;
/** How many such samples in one reading are clipping, not a click? One in a thousand. */
const MOST_FULL_SAMPLES = (READING_MS * 16) / 1000;
/** For how many readings is clipping told? Five seconds. */
const CLIPPED_READINGS = 20;

export class SoundMeter {
  readonly #activity = new VoiceActivity(FAINTEST_DB);
  #energy = 0;
  #fullSamples = 0;
  #frames = 0;
  #clippedReadings = 0;
  #roomDb = 0;
  #speech: number[] = [];
  #silenceMs = 0;
  #stretches: number[] = [];

  /** Level of the loud parts of the last stretches of speech; null before anybody spoke. */
  get speechDb(): number | null {
    const sorted = this.#stretches.toSorted((a, b) => a - b);
    return sorted[sorted.length >> 1] ?? null;
  }

  /** Takes 160 samples; `isPerson` is false while the wall itself speaks. A reading four times a second. */
  next(frame: Float32Array, isPerson: boolean, gainDb: number): SoundReading | null {
    const { isSpeech, levelDb, roomDb } = this.#activity.next(frame);
    this.#roomDb = roomDb;
    if (isPerson) this.#takeSpeech(isSpeech ? levelDb : null);
    else this.#speech = [];
    for (const sample of frame) {
      this.#energy += sample * sample;
      if (Math.abs(sample) >= FULL_SCALE) this.#fullSamples += 1;
    }
    this.#frames += 1;
    return this.#frames * FRAME_MS < READING_MS ? null : this.#read(gainDb);
  }

  #takeSpeech(levelDb: number | null): void {
    if (levelDb !== null) {
      this.#speech.push(levelDb);
      this.#silenceMs = 0;
      return;
    }
    this.#silenceMs += FRAME_MS;
    if (this.#silenceMs < END_MS || this.#speech.length === 0) return;
    if (this.#speech.length * FRAME_MS >= SHORTEST_SPEECH_MS)
      this.#stretches = [...this.#stretches.slice(1 - STRETCHES), loudMeanDb(this.#speech)];
    this.#speech = [];
  }

  #read(gainDb: number): SoundReading {
    const mean = this.#energy / (this.#frames * FRAME_SAMPLES);
    const isClipped = this.#fullSamples > MOST_FULL_SAMPLES;
    this.#clippedReadings = isClipped ? CLIPPED_READINGS : Math.max(0, this.#clippedReadings - 1);
    this.#energy = 0;
    this.#fullSamples = 0;
    this.#frames = 0;
    const levelDb = 10 * Math.log10(mean + 1e-10);
    const reading = { levelDb, roomDb: this.#roomDb, speechDb: this.speechDb, gainDb };
    return { ...reading, quality: judge(reading, this.#clippedReadings > 0) };
  }
}

/** Which room is loud before anybody spoke, in dB? Ten below speech at a usual level. */
const LOUD_ROOM_DB = -30;
/** How loud must speech be with its gain, in dB? Measured: right as ever 15 dB below that, lost 25 dB below. */
export const FAINT_DB = -45;

function judge(
  { roomDb, speechDb, gainDb }: Omit<SoundReading, 'quality'>,
  isClipped: boolean,
): HearingQuality {
  if (isClipped) return 'clipped';
  if (speechDb === null) return roomDb > LOUD_ROOM_DB ? 'loud-room' : 'not-yet';
  // Faint first: where speech is hardly above a quiet room, it is not the room that is loud.
  if (speechDb + gainDb < FAINT_DB) return 'faint';
  return speechDb - roomDb < LEAST_ABOVE_ROOM_DB ? 'loud-room' : 'well';
}

/** Mean of the louder half, in dB: pauses inside words don't count. */
export function loudMeanDb(levels: readonly number[]): number {
  const loud = levels.toSorted((a, b) => b - a).slice(0, Math.ceil(levels.length / 2));
  return loud.reduce((sum, level) => sum + level, 0) / loud.length;
}
