/**
 * Human recordings that Debian packages carry, for checks from outside. Neither
 * package is part of the product.
 */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { Resampler } from '../../src/voice/ear/resampler';
import { SAMPLE_RATE_HZ } from '../../src/voice';
import { join } from './real-listener';

/** Debian package pocketsphinx-testdata (BSD-2): several people, 16 kHz. */
export const POCKETSPHINX = '/usr/share/pocketsphinx/test/data';
/** Debian package asterisk-core-sounds-en-wav (CC BY-SA): one speaker, 8 kHz. */
export const ASTERISK = '/usr/share/asterisk/sounds/en_US_f_Allison';

/** Whether a package is here; says so where it is not, so that a skip is seen. */
export function isHere(folder: string, packageName: string): boolean {
  if (existsSync(folder)) return true;
  console.log(`skipped: Debian package ${packageName} is not installed`);
  return false;
}

/** Raw 16-bit samples, with the header of a WAV file skipped where there is one. */
export function loadHuman(folder: string, name: string, rateHz: number): Float32Array {
  const bytes = readFileSync(path.join(folder, name));
  const from = bytes.toString('latin1', 0, 4) === 'RIFF' ? 44 : 0;
  const samples = Float32Array.from(
    { length: (bytes.length - from) >> 1 },
    (_, i) => bytes.readInt16LE(from + 2 * i) / 32_768,
  );
  return new Resampler(rateHz, SAMPLE_RATE_HZ).next(join(samples, new Float32Array(400)));
}
