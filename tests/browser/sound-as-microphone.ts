/** A WAV file for Chromium's fake microphone: committed rehearsal recordings with silence between. */
import { readFile, writeFile } from 'node:fs/promises';
// Past the folder's door: it also opens on JSON files that this test runner can't import.
import { SAMPLE_RATE_HZ } from '../../src/voice/hearing/listener';
import { readWav } from '../../src/voice/ear/wav';

export interface SpokenLine {
  readonly who: 'surgeon' | 'scrub';
  readonly words: string;
  /** Silence after it, in seconds: time for the wall to decide and to read back. */
  readonly pauseS: number;
}

interface Clip {
  readonly words: string;
  readonly speaker: string;
  readonly file: string;
}

const CLIPS = new URL('../../src/voice/rehearsal-clips/', import.meta.url);

/** Writes the file; the first line comes after `leadS` seconds. */
export async function writeMicrophoneFile(
  path: string,
  lines: readonly SpokenLine[],
  leadS: number,
): Promise<void> {
  const silence = (seconds: number) => new Float32Array(Math.round(seconds * SAMPLE_RATE_HZ));
  const pieces: Float32Array[] = [silence(leadS)];
  for (const line of lines) pieces.push(await loadClip(line), silence(line.pauseS));
  await writeFile(path, toWav(pieces));
}

/** The recording of a line. Throws where there is none. */
export async function loadClip({
  who,
  words,
}: Pick<SpokenLine, 'who' | 'words'>): Promise<Float32Array> {
  const clips = await listClips();
  const clip = clips.find((one) => one.words === words && one.speaker === who);
  if (!clip) throw new Error(`No recording of "${words}" by the ${who}`);
  return readWav(await readFile(new URL(clip.file, CLIPS)));
}

async function listClips(): Promise<readonly Clip[]> {
  return JSON.parse(await readFile(new URL('manifest.json', CLIPS), 'utf8')) as readonly Clip[];
}

/** RIFF, PCM 16 bit, one channel, 16 kHz. */
export function toWav(pieces: readonly Float32Array[]): Buffer {
  const samples = pieces.reduce((total, { length }) => total + length, 0);
  const wav = Buffer.alloc(44 + samples * 2);
  wav.write('RIFF', 0);
  wav.writeUInt32LE(36 + samples * 2, 4);
  wav.write('WAVEfmt ', 8);
  wav.writeUInt32LE(16, 16);
  wav.writeUInt16LE(1, 20);
  wav.writeUInt16LE(1, 22);
  wav.writeUInt32LE(SAMPLE_RATE_HZ, 24);
  wav.writeUInt32LE(SAMPLE_RATE_HZ * 2, 28);
  wav.writeUInt16LE(2, 32);
  wav.writeUInt16LE(16, 34);
  wav.write('data', 36);
  wav.writeUInt32LE(samples * 2, 40);
  let at = 44;
  for (const piece of pieces) {
    for (const sample of piece) {
      wav.writeInt16LE(Math.max(-32_768, Math.min(32_767, Math.round(sample * 32_767))), at);
      at += 2;
    }
  }
  return wav;
}
