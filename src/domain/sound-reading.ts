/** What the microphone gives, as numbers and as a judgement. Levels in dB of full scale. */

/**
 * How well speech can be heard: not-yet (nobody spoke), well, loud-room (speech hardly
 * above the room), faint (too quiet for the gain), clipped (too loud for the microphone).
 */
export type HearingQuality = 'not-yet' | 'well' | 'loud-room' | 'faint' | 'clipped';

/** One reading, four a second. */
export interface SoundReading {
  /** Level of the last quarter of a second. */
  readonly levelDb: number;
  /** The room's own level in the band of speech. */
  readonly roomDb: number;
  /** Level of the loud parts of the latest speech, same band; null before anybody spoke. */
  readonly speechDb: number | null;
  /** By how much sound is made louder before it is listened to. */
  readonly gainDb: number;
  readonly quality: HearingQuality;
}

/** How far the voice cards are learnt: sounds listened to, of those that it takes for what may be said now. */
export interface CardLearning {
  readonly done: number;
  readonly total: number;
}

/** Why a recording of a phrase is no good as an example of it. */
export type TakeFlaw = 'too-quiet' | 'clipped' | 'noisy' | 'too-short' | 'too-long';
