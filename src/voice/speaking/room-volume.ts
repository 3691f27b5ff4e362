/**
 * How loud the wall speaks: a base that the team sets, raised with the room's own noise
 * within limits and slowly, as people do. The room's level is the lowest of the last
 * seconds, so that talk does not count as noise; while the wall speaks nothing counts.
 */

import type { Volume } from '../../domain';

/** In dB against the recordings, whose peaks lie 6 dB below full scale. */
const BASE_DB: Readonly<Record<Volume, number>> = { soft: -16, normal: -8, loud: -2 };
/** Up to which level is a room quiet, in dB of full scale at the microphone? */
const QUIET_ROOM_DB = -55;
/**
 * How much does the voice rise for each dB of noise? People raise theirs by a third to
 * a half of a dB (the Lombard effect; the figure from memory).
 */
const RAISE_PER_DB = 0.5;
/** By how much at most, in dB? */
const MOST_RAISE_DB = 10;
/** Above which gain would the recordings be clipped, in dB? */
export const LOUDEST_GAIN_DB = 6;
/** Over how many readings (four a second) is the lowest taken? Eight seconds: nobody talks so long without a pause. */
const READINGS = 32;
/** How fast does the voice follow, in dB for each reading? Up within some seconds, down more slowly. */
const RISE_DB = 0.5;
const FALL_DB = 0.125;
/** How many readings after the wall has spoken still hold its echo? */
const ECHO_READINGS = 2;

export class RoomVolume {
  #base: Volume = 'normal';
  #levels: number[] = [];
  #raiseDb = 0;
  #echoLeft = 0;

  set base(base: Volume) {
    this.#base = base;
  }

  /** Takes one reading of the level, in dB of full scale, a quarter of a second after the last. */
  hear(levelDb: number, isSpeaking: boolean): void {
    if (isSpeaking) this.#echoLeft = ECHO_READINGS;
    else if (this.#echoLeft > 0) this.#echoLeft -= 1;
    if (isSpeaking || this.#echoLeft > 0) return;
    this.#levels = [...this.#levels.slice(1 - READINGS), levelDb];
    // A room is known once all its readings are there: the first ones may be somebody talking.
    if (this.#levels.length < READINGS) return;
    const roomDb = Math.min(...this.#levels);
    const wanted = Math.min(MOST_RAISE_DB, Math.max(0, (roomDb - QUIET_ROOM_DB) * RAISE_PER_DB));
    const step = wanted - this.#raiseDb;
    this.#raiseDb += Math.min(RISE_DB, Math.max(-FALL_DB, step));
  }

  /** In dB against the recordings. */
  get gainDb(): number {
    return Math.min(LOUDEST_GAIN_DB, BASE_DB[this.#base] + this.#raiseDb);
  }
}
