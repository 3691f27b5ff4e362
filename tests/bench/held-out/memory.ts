/**
 * What the measurement remembers on disk between runs: synthetic speech, which takes
 * longer to make than to hear.
 * The folder is named in CUEWALL_BENCH_CACHE and lies outside the repository; without
 * it nothing is kept. Files are named by the SHA-1 of what they were made from.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { synthesise } from '../../../src/cli/spoken-voices';
import type { Manner } from '../../../src/cli/spoken-voices';

const FOLDER = process.env['CUEWALL_BENCH_CACHE'];

/** A text in one of the synthetic voices, 16 kHz. */
export function say(voice: string, text: string, manner?: Manner): Float32Array {
  const name = nameOf('speech', JSON.stringify([voice, text, manner ?? null]));
  return recall(name) ?? keep(name, synthesise(voice, text, manner));
}

/** Tells sounds apart by their samples. */
export function soundKey(pcm: Float32Array): string {
  return createHash('sha1').update(bytesOf(pcm)).digest('hex');
}

function nameOf(kind: string, content: string | Uint8Array): string {
  return `${kind}-${createHash('sha1').update(content).digest('hex')}.f32`;
}

function recall(name: string): Float32Array | null {
  const file = FOLDER ? path.join(FOLDER, name) : '';
  if (!FOLDER || !existsSync(file)) return null;
  return new Float32Array(new Uint8Array(readFileSync(file)).buffer);
}

/** Written beside and renamed: a run that is cut off leaves no half file. */
function keep(name: string, data: Float32Array): Float32Array {
  if (!FOLDER) return data;
  mkdirSync(FOLDER, { recursive: true });
  const file = path.join(FOLDER, name);
  writeFileSync(`${file}.${process.pid}`, bytesOf(data));
  renameSync(`${file}.${process.pid}`, file);
  return data;
}

function bytesOf(data: Float32Array): Uint8Array {
  return new Uint8Array(data.buffer, data.byteOffset, data.byteLength);
}
