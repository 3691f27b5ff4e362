/**
 * Reads the WAV files that clips are kept in: RIFF, PCM of 16 bits, one channel,
 * 16 kHz (Multimedia Programming Interface and Data Specifications 1.0, 1991).
 * Anything else is an error of whoever made the file.
 */
import { SAMPLE_RATE_HZ } from '../hearing/listener';

/** Samples from -1 to 1. Throws where the file is something else. */
export function readWav(bytes: Uint8Array): Float32Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (textAt(view, 0) !== 'RIFF' || textAt(view, 8) !== 'WAVE') throw new Error('Not a WAV file');
  let isFormatRight = false;
  for (let at = 12; at + 8 <= view.byteLength;) {
    const length = view.getUint32(at + 4, true);
    const id = textAt(view, at);
    if (id === 'fmt ') isFormatRight = isMono16(view, at + 8);
    if (id === 'data') {
      if (!isFormatRight) throw new Error('Expected PCM, 16 bits, one channel, 16000 Hz');
      return readSamples(view, at + 8, Math.min(length, view.byteLength - at - 8));
    }
    at += 8 + length + (length % 2);
  }
  throw new Error('No sound in this WAV file');
}

function isMono16(view: DataView, at: number): boolean {
  return (
    view.getUint16(at, true) === 1 &&
    view.getUint16(at + 2, true) === 1 &&
    view.getUint32(at + 4, true) === SAMPLE_RATE_HZ &&
    view.getUint16(at + 14, true) === 16
  );
}

function readSamples(view: DataView, at: number, length: number): Float32Array {
  return Float32Array.from(
    { length: length >> 1 },
    (_, i) => view.getInt16(at + 2 * i, true) / 32_768,
  );
}

function textAt(view: DataView, at: number): string {
  if (at + 4 > view.byteLength) return '';
  return String.fromCharCode(...[0, 1, 2, 3].map((offset) => view.getUint8(at + offset)));
}
