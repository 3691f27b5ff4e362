/**
 * A theatre's noise under a whole rehearsal: every line is brought to one level, and the
 * same mixed noise (noise-mix.ts) goes on all the time, so many dB below the speech.
 */
import type { RehearsalClip } from '../voice';
import { loudPower, makeNoise, toPower } from './noise-mix';
import { resample, SAMPLE_RATE_HZ } from '../voice';

/** The power of the loud parts of speech: -20 dB of full scale. */
const SPEECH_POWER = 0.01;
/** After how long the noise begins anew, in seconds; hammering, beeps and drill don't share a period. */
const NOISE_S = 20;
const SEED = 5;

/** How fast lines are said, one after another: nobody says the same twice in the same way. Pitch goes with it. */
const RATES = [1, 0.95, 1.05, 0.92, 1.08];

/** What a noisy room does to sound. */
export interface NoisyRoom {
  /** Brings a line to the level of speech; the same line is said a little faster or slower each time. */
  say(clip: Float32Array): Float32Array;
  /** Puts the noise that goes on at this moment over the sound. */
  over(sound: Float32Array): Float32Array;
}

/** `talk` is what the babble is made of: people who do not mean the wall. */
export function createNoisyRoom(snrDb: number, talk: readonly Float32Array[]): NoisyRoom {
  const noise = toPower(
    makeNoise('mixed', NOISE_S * SAMPLE_RATE_HZ, SEED, talk),
    SPEECH_POWER / 10 ** (snrDb / 10),
  );
  let at = 0;
  let said = -1;
  return {
    say: (clip) => {
      said += 1;
      const rate = RATES[said % RATES.length] ?? 1;
      const varied = resample(clip, SAMPLE_RATE_HZ * rate, SAMPLE_RATE_HZ);
      const gain = Math.sqrt(SPEECH_POWER / loudPower(varied));
      return varied.map((sample) => sample * gain);
    },
    over: (sound) =>
      sound.map((sample) => {
        const both = sample + (noise[at] ?? 0);
        at = (at + 1) % noise.length;
        return Math.max(-1, Math.min(1, both));
      }),
  };
}

/** Which of the recordings the babble is made of: every sixth. */
export function chooseTalk(clips: readonly RehearsalClip[]): readonly RehearsalClip[] {
  return clips.filter((_, index) => index % 6 === 0);
}
