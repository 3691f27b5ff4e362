/**
 * How much louder or softer sound is made before it is listened to. Follows the level
 * of speech only, so that no noise pumps it; slow, within limits, and exactly nothing
 * for anyone who speaks at a usual level. Pure.
 */

/** Between which levels is speech left as it is, in dB of full scale? Clips at -6 dB peak lie at about -20. */
const SOFT_DB = -38;
const LOUD_DB = -10;
/** The limits of the gain, in dB. */
const LEAST_GAIN_DB = -6;
const MOST_GAIN_DB = 24;
/** By how much does it change at a time, in dB? It is asked between utterances. */
const STEP_DB = 6;

/** The gain after the next pause, in dB. `speechDb` is the level of speech without gain. */
export function nextGainDb(gainDb: number, speechDb: number | null): number {
  if (speechDb === null) return gainDb;
  const wanted = Math.max(0, SOFT_DB - speechDb) + Math.min(0, LOUD_DB - speechDb);
  const limited = Math.min(MOST_GAIN_DB, Math.max(LEAST_GAIN_DB, wanted));
  return gainDb + Math.max(-STEP_DB, Math.min(STEP_DB, limited - gainDb));
}

/** The frame made louder; what would leave the scale is held at its end. */
export function amplify(frame: Float32Array, gainDb: number): Float32Array {
  if (gainDb === 0) return frame;
  const factor = 10 ** (gainDb / 20);
  return frame.map((sample) => Math.max(-1, Math.min(1, sample * factor)));
}
