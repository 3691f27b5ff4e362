/**
 * Tells speech from a quiet or steadily noisy room, one 10 ms frame at a time.
 * The room's own level is followed by minimum statistics (the lowest smoothed
 * level of the last two seconds; R. Martin 2001 describes the idea), so that
 * ventilation or suction becomes the new quiet. Pure: same frames, same answer.
 */

import { SAMPLE_RATE_HZ } from './listener';

/** Samples in one frame: 10 ms at 16 kHz, the recogniser's own frame rate. */
export const FRAME_SAMPLES = 160;
/** Milliseconds of one frame. */
export const FRAME_MS = 10;

/** How far above the room must a frame be to count as speech, in dB? */
const ONSET_DB = 7;
/**
 * Below how many dB above the room does speech end? Lower than the onset, for soft word endings.
 * At 4 there were 30 silences of 200 ms within 136 commands at 10 dB, at 3 there are 20; lower
 * still, more of babble and a saw runs on. docs/voice-tried.md.
 */
const OFFSET_DB = 3;
/** Which level is too faint to be anyone at a microphone, in dB of full scale? */
export const FAINTEST_DB = -62;
/** What is the lowest level kept apart? Digital silence would be minus infinity. */
const LOWEST_DB = -96;
/** How long does the room's level remember? Blocks of 250 ms. */
const BLOCK_FRAMES = 25;
const BLOCKS = 8;
/** How far is a minimum of smoothed levels below their mean in steady noise, in dB? Measured. */
const MINIMUM_BIAS_DB = 2;
/** Where does speech carry its energy, in Hz? Hum lies below, hiss of water and air above. */
const BAND_LOW_HZ = 200;
const BAND_HIGH_HZ = 3400;

/** How fast does the smoothed level follow, as a share of the difference per frame? */
const RISE = 0.6;
const FALL = 0.35;

/** What one frame was. Levels in dB of full scale. */
export interface FrameActivity {
  readonly isSpeech: boolean;
  readonly levelDb: number;
  readonly roomDb: number;
  /** How far the smoothed level stands above the room, or above what is too faint to be anyone. */
  readonly aboveDb: number;
}

export class VoiceActivity {
  #highPass = createFilter('high', BAND_LOW_HZ);
  #lowPass = createFilter('low', BAND_HIGH_HZ);
  #smoothed: number | null = null;
  #isSpeech = false;
  #framesInBlock = 0;
  #blockMinimum = 0;
  #minima: number[] = [];

  /** What is fainter is nobody at a microphone, in dB of full scale. */
  faintestDb: number;

  constructor(faintestDb = FAINTEST_DB) {
    this.faintestDb = faintestDb;
  }

  /** Takes the next 160 samples (-1 to 1) and says whether they are speech. */
  next(frame: Float32Array): FrameActivity {
    const levelDb = this.#levelOf(frame);
    const before = this.#smoothed ?? levelDb;
    const smoothed = before + (levelDb - before) * (levelDb > before ? RISE : FALL);
    this.#smoothed = smoothed;
    const roomDb = this.#followRoom(smoothed);
    const aboveDb = smoothed - Math.max(roomDb, this.faintestDb - ONSET_DB);
    this.#isSpeech = aboveDb > (this.#isSpeech ? OFFSET_DB : ONSET_DB);
    return { isSpeech: this.#isSpeech, levelDb, roomDb, aboveDb };
  }

  /** Forgets the speech under way, keeps what it knows of the room. */
  forgetSpeech(): void {
    this.#highPass = createFilter('high', BAND_LOW_HZ);
    this.#lowPass = createFilter('low', BAND_HIGH_HZ);
    this.#isSpeech = false;
    this.#smoothed = null;
  }

  /** The sound is made louder by so much from here on: what is known of the room moves with it. */
  shiftLevels(byDb: number): void {
    this.#blockMinimum += byDb;
    this.#minima = this.#minima.map((minimum) => minimum + byDb);
    if (this.#smoothed !== null) this.#smoothed += byDb;
  }

  #levelOf(frame: Float32Array): number {
    let sum = 0;
    for (const sample of frame) {
      const inBand = this.#lowPass(this.#highPass(sample));
      sum += inBand * inBand;
    }
    return Math.max(LOWEST_DB, 10 * Math.log10(sum / frame.length + 1e-12));
  }

  #followRoom(smoothed: number): number {
    this.#blockMinimum = Math.min(this.#blockMinimum, smoothed);
    this.#framesInBlock += 1;
    if (this.#framesInBlock === BLOCK_FRAMES) {
      this.#minima = [...this.#minima.slice(1 - BLOCKS), this.#blockMinimum];
      this.#framesInBlock = 0;
      this.#blockMinimum = 0;
    }
    return this.#roomDb();
  }

  #roomDb(): number {
    return Math.min(this.#blockMinimum, ...this.#minima) + MINIMUM_BIAS_DB;
  }
}

/** Second-order Butterworth section at 16 kHz (Audio EQ Cookbook, W3C note, Q = 0.7071). */
function createFilter(kind: 'low' | 'high', cornerHz: number): (sample: number) => number {
  const angle = (2 * Math.PI * cornerHz) / SAMPLE_RATE_HZ;
  const alpha = Math.sin(angle) / Math.SQRT2;
  const cos = Math.cos(angle);
  const a0 = 1 + alpha;
  const edge = (kind === 'low' ? 1 - cos : 1 + cos) / 2 / a0;
  const middle = kind === 'low' ? 2 * edge : -2 * edge;
  const a1 = (-2 * cos) / a0;
  const a2 = (1 - alpha) / a0;
  let x1 = 0;
  let x2 = 0;
  let y1 = 0;
  let y2 = 0;
  return (x) => {
    const y = edge * (x + x2) + middle * x1 - a1 * y1 - a2 * y2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    return y;
  };
}
