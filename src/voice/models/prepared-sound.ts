/**
 * An utterance as every model hears it: cut to the speech, evened in level, quiet around it.
 */
import { FRAME_SAMPLES } from '../hearing/voice-activity';

/** How loud is the quiet around an utterance? Digital silence is nothing that a model ever heard. */
const PAD_LEVEL = 2e-4;
/** How much is kept before and after the loud part, in frames of 10 ms? Soft onsets, final consonants. */
const LEAD_FRAMES = 12;
const TAIL_FRAMES = 12;
/** How loud is the loudest tenth of every utterance made? What models make of it depends on level. */
const TARGET_RMS = 0.08;

/** Cuts to the speech, evens the level and puts quiet around. Sound at 16 kHz, -1 to 1, as what comes out. */
export function prepareSound(whole: Float32Array, padSamples: number): Float32Array {
  const gain = TARGET_RMS / Math.max(loudRms(framePowers(whole)), 1e-5);
  const pcm = trimToSpeech(whole, LEAD_FRAMES, TAIL_FRAMES);
  const sound = new Float32Array(pcm.length + 2 * padSamples);
  let seed = 1;
  for (let index = 0; index < sound.length; index += 1) {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
    const quiet = (seed / 2_147_483_648 - 1) * PAD_LEVEL;
    const at = index - padSamples;
    const said = at >= 0 && at < pcm.length ? (pcm[at] ?? 0) * gain : 0;
    sound[index] = Math.max(-1, Math.min(1, said + quiet));
  }
  return sound;
}

function framePowers(pcm: Float32Array): number[] {
  return Array.from({ length: Math.floor(pcm.length / FRAME_SAMPLES) }, (_, frame) => {
    const part = pcm.subarray(frame * FRAME_SAMPLES, (frame + 1) * FRAME_SAMPLES);
    return part.reduce((sum, x) => sum + x * x, 1e-12) / FRAME_SAMPLES;
  });
}

/** Root mean square of the tenth of the 10 ms frames that is loudest. */
function loudRms(powers: readonly number[]): number {
  const loud = powers.toSorted((a, b) => b - a).slice(0, Math.max(1, powers.length / 10));
  return Math.sqrt(loud.reduce((sum, power) => sum + power, 0) / loud.length);
}

/** From some frames of 10 ms before the first that is louder than half-way (in dB) to some after the last. */
export function trimToSpeech(pcm: Float32Array, lead: number, tail: number): Float32Array {
  const levels = framePowers(pcm).map((power) => 10 * Math.log10(power));
  const sorted = levels.toSorted((a, b) => a - b);
  const quiet = sorted[Math.floor(sorted.length * 0.1)] ?? 0;
  const loud = sorted[Math.floor(sorted.length * 0.95)] ?? 0;
  const isLoud = (level: number): boolean => level > Math.max((quiet + loud) / 2, loud - 20);
  const first = levels.findIndex(isLoud);
  const last = levels.findLastIndex(isLoud);
  if (first < 0) return pcm;
  const from = Math.max(0, first - lead) * FRAME_SAMPLES;
  return pcm.subarray(from, (last + tail) * FRAME_SAMPLES);
}
