/**
 * Whether a second person speaks in an utterance: two pitches in one moment. A voice is
 * nearly periodic, so a comb filter tuned to its pitch takes it out; what another such
 * filter then takes out of the rest is another voice (cancellation of harmonic sounds,
 * A. de Cheveigné, J. Acoust. Soc. Am. 93, 1993, 3271-3290). A room that hums by itself,
 * a drill or a fan, is told by the sound before the first word. Pure.
 */
import { TWO_VOICES_LIMITS } from './decision-limits';
import { SAMPLE_RATE_HZ } from '../hearing/listener';

/** At which rate is pitch looked for? Above 1 kHz a voice is too little periodic to be taken out. */
const RATE_HZ = SAMPLE_RATE_HZ / 2;
/** Which pitches does a voice have, in Hz? Deep men to women who call; a child's cry is outside. */
const LOWEST_HZ = 80;
const HIGHEST_HZ = 400;
const SHORTEST_LAG = RATE_HZ / HIGHEST_HZ;
const LONGEST_LAG = RATE_HZ / LOWEST_HZ;
/** How much sound is one look, and how far is the next? 40 and 10 ms. */
const LOOK = RATE_HZ / 25;
const HOP = RATE_HZ / 100;
/** How much quieter than the loudest tenth may a look be, in power? 10 dB: the noise between words has no say. */
const LEAST_POWER = 0.1;
/** From which part on is what the first comb left worth another look? Less, 7 dB down, is the roughness of one voice. */
const LEAST_REST = 0.2;
/** Up to which part left over is a sound periodic? A comb leaves all of white noise and nothing of a steady pitch; the shares of TWO_VOICES_LIMITS were measured with it as it is. */
const PERIODIC_REST = 0.3;
/** How near may the second period lie to the first, its half, third, double or triple? They are the same voice: a semitone, 6 %, and the step between two lags of a high pitch. */
const RELATED = 0.07;
/** How far may periods differ and be one steady hum? Less than a semitone, 6 %: a voice that speaks moves by more. */
const STEADY = 0.04;
/** How much sound comes before the first word? It is 250 ms; the rest may be the word's own. */
const LEAD_S = 0.2;

/** Part of the loud looks (0 to 1) in which a second voice is heard; 0 where the room hums. 16 kHz. */
export function shareOfSecondVoice(utterance: Float32Array): number {
  const sound = lowPart(utterance);
  if (isHumming(sound)) return 0;
  const looks = loudLooks(sound);
  const periods = looks.flatMap((at) => secondPeriod(sound, at) ?? []);
  if (periods.length === 0) return 0;
  // A pitch that stands still through the whole utterance is a machine's.
  const steady = Math.max(...periods.map((period) => periods.filter(isSameHum(period)).length));
  return (periods.length - steady) / looks.length;
}

function isSameHum(hum: number): (period: number) => boolean {
  return (period) =>
    [0.5, 1, 2].some((octave) => Math.abs(period / hum - octave) < STEADY * octave);
}

/** Looks before the first word in which something is periodic already. */
function isHumming(sound: Float32Array): boolean {
  let looks = 0;
  let periodic = 0;
  for (let at = LONGEST_LAG; at + LOOK <= LEAD_S * RATE_HZ; at += HOP) {
    looks += 1;
    if (bestPeriod(sound, at, () => true).rest < PERIODIC_REST) periodic += 1;
  }
  return looks > 0 && periodic / looks > TWO_VOICES_LIMITS.hummingShare;
}

/** Where the looks begin that are loud enough, with room for two combs before each. */
function loudLooks(sound: Float32Array): readonly number[] {
  const starts: number[] = [];
  for (let at = 2 * LONGEST_LAG; at + LOOK <= sound.length; at += HOP) starts.push(at);
  const powers = starts.map((at) => powerOf(sound, at));
  const loud = powers.toSorted((a, b) => b - a).slice(0, Math.max(1, powers.length / 10));
  const least = LEAST_POWER * (loud.reduce((sum, power) => sum + power, 0) / loud.length);
  return starts.filter((_, index) => (powers[index] ?? 0) >= least);
}

/** The period of a second voice at this place, in samples; null where there is none. */
function secondPeriod(sound: Float32Array, at: number): number | null {
  const first = bestPeriod(sound, at, () => true);
  if (first.rest <= LEAST_REST) return null;
  const from = at - LONGEST_LAG;
  const rest = Float32Array.from(
    { length: LONGEST_LAG + LOOK },
    (_, index) => (sound[from + index] ?? 0) - (sound[from + index - first.period] ?? 0),
  );
  const second = bestPeriod(rest, LONGEST_LAG, (period) => !isRelated(period / first.period));
  return second.rest < PERIODIC_REST ? second.period : null;
}

function isRelated(ratio: number): boolean {
  return [1 / 3, 0.5, 1, 2, 3].some((known) => Math.abs(ratio / known - 1) < RELATED);
}

/** The period whose comb leaves least, and which part it leaves: 0 is all taken out, 1 nothing periodic. */
function bestPeriod(
  sound: Float32Array,
  at: number,
  isAllowed: (period: number) => boolean,
): { readonly period: number; readonly rest: number } {
  const power = powerOf(sound, at);
  let before = powerOf(sound, at - SHORTEST_LAG + 1);
  let best = { period: SHORTEST_LAG, rest: 1 };
  for (let period = SHORTEST_LAG; period <= LONGEST_LAG; period += 1) {
    before += (sound[at - period] ?? 0) ** 2 - (sound[at - period + LOOK] ?? 0) ** 2;
    if (!isAllowed(period)) continue;
    let left = 0;
    for (let index = at; index < at + LOOK; index += 1) {
      const change = (sound[index] ?? 0) - (sound[index - period] ?? 0);
      left += change * change;
    }
    const rest = left / (power + before + 1e-9);
    if (rest < best.rest) best = { period, rest };
  }
  return best;
}

/** Sum of squares of one look. */
function powerOf(sound: Float32Array, at: number): number {
  let sum = 0;
  for (let index = at; index < at + LOOK; index += 1) sum += (sound[index] ?? 0) ** 2;
  return sum;
}

/** Two running means over nine samples, then every second sample: 13 dB down at 1 kHz, 28 or more above 1.3 kHz. */
function lowPart(sound: Float32Array): Float32Array {
  const twice = runningMean(runningMean(sound));
  return Float32Array.from({ length: Math.floor(sound.length / 2) }, (_, at) => twice[2 * at] ?? 0);
}

function runningMean(sound: Float32Array): Float32Array {
  let sum = 0;
  return sound.map((sample, index) => {
    sum += sample - (sound[index - 9] ?? 0);
    return sum / 9;
  });
}
