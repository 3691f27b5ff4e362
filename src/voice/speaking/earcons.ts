/**
 * The wall's short sounds, made by arithmetic. They must never be taken for a medical
 * alarm, so each is one soft sound that glides, shorter, higher and purer than any pulse
 * of an alarm, and none is ever repeated by itself (docs/voice.md compares them).
 */
import type { Earcon } from '../../domain';
import type { EarconOutput } from './announcer';
import type { SoundPlayer } from './sound-player';

/** How long does each last, in milliseconds? Shorter than a pulse of an alarm of low or medium priority. */
export const EARCON_MS = 110;
/** How loud, in dB of full scale? Softer than the speech that follows. */
const PEAK_DB = -18;
/** How long does it take to come up, in milliseconds? Soft, and too short to be a beat. */
const RISE_MS = 8;
/** How fast does it die away, in milliseconds? A small bell of wood, not a tone. */
const DECAY_MS = 28;

/** From which pitch to which, in Hz? Up asks, down says not yet, level is done; all above the alarms' band. */
const GLIDES: Readonly<Record<Earcon, readonly [number, number]>> = {
  asks: [1250, 1700],
  taken: [1480, 1480],
  'not-yet': [1600, 1150],
};

/** The sound as samples from -1 to 1. */
export function makeEarcon(earcon: Earcon, rateHz: number): Float32Array<ArrayBuffer> {
  const [fromHz, toHz] = GLIDES[earcon];
  const peak = 10 ** (PEAK_DB / 20);
  const samples = new Float32Array(Math.round((EARCON_MS * rateHz) / 1000));
  let phase = 0;
  for (let index = 0; index < samples.length; index += 1) {
    const ms = (index * 1000) / rateHz;
    const rise = Math.sin((Math.min(1, ms / RISE_MS) * Math.PI) / 2) ** 2;
    const left = Math.sin((Math.min(1, (EARCON_MS - ms) / RISE_MS) * Math.PI) / 2) ** 2;
    const decay = Math.exp(-Math.max(0, ms - RISE_MS) / DECAY_MS);
    samples[index] = peak * rise * left * decay * Math.sin(phase);
    phase += (2 * Math.PI * (fromHz + ((toHz - fromHz) * ms) / EARCON_MS)) / rateHz;
  }
  return samples;
}

export class Earcons implements EarconOutput {
  readonly #player: SoundPlayer;

  constructor(player: SoundPlayer) {
    this.#player = player;
  }

  async play(earcon: Earcon): Promise<boolean> {
    if (!this.#player.isAllowedToPlay()) return false;
    await this.#player.play(this.#player.make(makeEarcon(earcon, this.#player.rateHz)));
    return true;
  }

  cancel(): void {
    this.#player.cancel();
  }
}
