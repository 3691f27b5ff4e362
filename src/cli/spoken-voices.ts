/**
 * Synthetic voices for templates and for measuring (Debian packages flite, espeak-ng,
 * sox). Three groups that share no voice: templates are made from the first,
 * thresholds set on the second, figures reported on the third.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { readWav } from '../voice';

/** `flite NAME`, or `espeak VOICE WORDS-PER-MINUTE`. */
export const TEMPLATE_VOICES = [
  'flite kal16', 'flite rms', 'flite slt', 'espeak en-us+m3 155', 'espeak en-gb+f2 160',
  'espeak en-gb-scotland+m1 150',
] as const; // prettier-ignore
export const TUNING_VOICES = ['espeak en-gb-x-rp+m7 165', 'espeak en-us+f4 150', 'espeak en-gb+m2 140'] as const; // prettier-ignore
export const FIGURE_VOICES = [
  'flite awb', 'espeak en-029+m4 155', 'espeak en-gb-x-gbclan+f3 150', 'espeak en-us+m6 165',
] as const; // prettier-ignore

/** Says a text: 16 kHz, mono, silence cut from both ends, evened level. */
export function synthesise(voice: string, text: string): Float32Array {
  const folder = mkdtempSync(path.join(tmpdir(), 'say-'));
  const [raw, wav] = [path.join(folder, 'raw.wav'), path.join(folder, 'one.wav')];
  const [program, name = '', speed = '155'] = voice.split(' ');
  if (program === 'flite') execFileSync('flite', ['-voice', name, '-t', text, '-o', raw]);
  else execFileSync('espeak-ng', ['-v', name, '-s', speed, '-w', raw, text]);
  execFileSync('sox', [
    '-D', raw, '-r', '16000', '-c', '1', '-b', '16', wav, 'silence', '1', '0.01', '0.1%',
    'reverse', 'silence', '1', '0.01', '0.1%', 'reverse', 'norm', '-6',
  ]); // prettier-ignore
  const sound = readWav(readFileSync(wav));
  rmSync(folder, { recursive: true });
  return sound;
}
