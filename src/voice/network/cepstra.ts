/**
 * The classical features of speech: cepstra of mel bands (discrete cosine transform II;
 * Davis and Mermelstein, IEEE ASSP 28, 1980) without their mean over the utterance, and how
 * they change (regression over two frames each way; Furui, IEEE ASSP 34, 1986). They keep
 * what is a speaker's own, which a network that was trained to hear everyone leaves out. Pure.
 */
import { BANDS } from './mel-filter';

/** Cepstra of one frame; the first, its loudness, is left out. */
const COEFFICIENTS = 16;
/** Numbers in one row: cepstra and their changes. */
export const CEPSTRAL_SIZE = 2 * COEFFICIENTS;

const COSINES = Array.from({ length: COEFFICIENTS }, (_, k) =>
  Float64Array.from(
    { length: BANDS },
    (__, band) => Math.sqrt(2 / BANDS) * Math.cos((Math.PI * (k + 1) * (band + 0.5)) / BANDS),
  ),
);

/** One row of CEPSTRAL_SIZE for each frame of BANDS numbers in `bands`. */
export function toCepstra(bands: Float32Array): Float32Array {
  const frames = bands.length / BANDS;
  const out = new Float32Array(frames * CEPSTRAL_SIZE);
  for (let k = 0; k < COEFFICIENTS; k += 1) {
    const track = centred(trackOf(bands, frames, k));
    for (let frame = 0; frame < frames; frame += 1) {
      out[frame * CEPSTRAL_SIZE + k] = track[frame] ?? 0;
      out[frame * CEPSTRAL_SIZE + COEFFICIENTS + k] = slopeAt(track, frame);
    }
  }
  return out;
}

function trackOf(bands: Float32Array, frames: number, k: number): Float64Array {
  const cosines = COSINES[k] ?? new Float64Array(0);
  return Float64Array.from({ length: frames }, (_, frame) =>
    cosines.reduce((sum, cosine, band) => sum + cosine * (bands[frame * BANDS + band] ?? 0), 0),
  );
}

function centred(track: Float64Array): Float64Array {
  const mean = track.reduce((sum, x) => sum + x, 0) / Math.max(1, track.length);
  return track.map((x) => x - mean);
}

/** Change for each frame; at the ends the outermost frame is taken as going on. */
function slopeAt(track: Float64Array, frame: number): number {
  const at = (index: number): number => track[Math.max(0, Math.min(track.length - 1, index))] ?? 0;
  return (2 * (at(frame + 2) - at(frame - 2)) + (at(frame + 1) - at(frame - 1))) / 10;
}
