/** Reads WAV files of people's recordings: 16-bit PCM of any rate and any number of channels. */
import { readFileSync } from 'node:fs';
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import { resample, SAMPLE_RATE_HZ } from '../voice';

/** Format tags of RIFF/WAVE: PCM, and the one that names the format further on. */
const PCM = 1;
const EXTENSIBLE = 0xfffe;
/** What a file must have before its first chunk, and a chunk `fmt ` at least, in bytes. */
const HEADER_BYTES = 12;
const FORMAT_BYTES = 16;

interface Format {
  readonly channels: number;
  readonly rateHz: number;
}

/** Samples at 16 kHz, mono, of a file that is there and right. Throws where it is not. */
export function readRecording(file: string): Float32Array {
  const decoded = decodeRecording(readFileSync(file));
  if (!decoded.ok) throw new Error(`${file}: ${decoded.error}`);
  return decoded.value;
}

/** The same of a file that somebody names: a fault where it is not there or something else. */
export function openRecording(file: string): Result<Float32Array, Fault> {
  let bytes: Buffer;
  try {
    bytes = readFileSync(file);
  } catch (cause) {
    return err(fault('file-unreadable', { file, detail: String(cause) }));
  }
  const decoded = decodeRecording(bytes);
  return decoded.ok ? decoded : err(fault('recording-unusable', { file, detail: decoded.error }));
}

/** The error says, for a developer, what was found instead. */
function decodeRecording(bytes: Buffer): Result<Float32Array, string> {
  if (textAt(bytes, 0) !== 'RIFF' || textAt(bytes, 8) !== 'WAVE') return err('no RIFF/WAVE');
  let format: Format | null = null;
  for (let at = HEADER_BYTES; at + 8 <= bytes.length;) {
    const id = textAt(bytes, at);
    const length = bytes.readUInt32LE(at + 4);
    const end = Math.min(bytes.length, at + 8 + length);
    if (id === 'fmt ') {
      const read = readFormat(bytes.subarray(at + 8, end));
      if (!read.ok) return read;
      format = read.value;
    }
    if (id === 'data' && format) {
      const mono = toMono(bytes.subarray(at + 8, end), format.channels);
      return ok(resample(mono, format.rateHz, SAMPLE_RATE_HZ));
    }
    at += 8 + length + (length % 2);
  }
  return err('no chunk of sound');
}

function readFormat(chunk: Buffer): Result<Format, string> {
  if (chunk.length < FORMAT_BYTES) return err('cut off');
  const tag = chunk.readUInt16LE(0);
  const isPcm = tag === PCM || (tag === EXTENSIBLE && isPcmInside(chunk));
  const [channels, rateHz, bits] = [
    chunk.readUInt16LE(2), chunk.readUInt32LE(4), chunk.readUInt16LE(14),
  ]; // prettier-ignore
  return isPcm && bits === 16 && channels > 0 && rateHz > 0
    ? ok({ channels, rateHz })
    : err(`format ${tag}, ${bits} bits, ${channels} channels, ${rateHz} Hz`);
}

function isPcmInside(chunk: Buffer): boolean {
  return chunk.length >= 26 && chunk.readUInt16LE(24) === PCM;
}

function textAt(bytes: Buffer, at: number): string {
  return bytes.toString('latin1', at, at + 4);
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
