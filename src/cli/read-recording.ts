/** Reads WAV files of people's recordings: 16-bit PCM of any rate and any number of channels. */
import { readFileSync } from 'node:fs';
import { resample, SAMPLE_RATE_HZ } from '../voice';

/** Samples at 16 kHz, mono. Throws where the file is something else. */
export function readRecording(file: string): Float32Array {
  const bytes = readFileSync(file);
  if (bytes.toString('latin1', 0, 4) !== 'RIFF') throw new Error('Not a WAV file');
  let [channels, rateHz] = [0, 0];
  for (let at = 12; at + 8 <= bytes.length;) {
    const id = bytes.toString('latin1', at, at + 4);
    const length = bytes.readUInt32LE(at + 4);
    if (id === 'fmt ') {
      if (bytes.readUInt16LE(at + 22) !== 16) throw new Error('Expected 16 bits a sample');
      channels = bytes.readUInt16LE(at + 10);
      rateHz = bytes.readUInt32LE(at + 12);
    }
    if (id === 'data' && channels > 0) {
      const end = Math.min(bytes.length, at + 8 + length);
      return resample(toMono(bytes.subarray(at + 8, end), channels), rateHz, SAMPLE_RATE_HZ);
    }
    at += 8 + length + (length % 2);
  }
  throw new Error('No sound in this WAV file');
}

function toMono(bytes: Buffer, channels: number): Float32Array {
  const frames = Math.floor(bytes.length / (2 * channels));
  return Float32Array.from({ length: frames }, (_, frame) => {
    let sum = 0;
    for (let channel = 0; channel < channels; channel += 1)
      sum += bytes.readInt16LE(2 * (frame * channels + channel));
    return sum / channels / 32_768;
  });
}
