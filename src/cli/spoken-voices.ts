/**
 * Synthetic voices for measuring (Debian packages flite, espeak-ng, sox). Two groups that
 * share no voice: thresholds are set on the first, figures reported on the second.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

/** `flite NAME`, `festival NAME`, or `espeak VOICE WORDS-PER-MINUTE`. */
export const TUNING_VOICES = ['espeak en-gb-x-rp+m7 165', 'espeak en-us+f4 150', 'espeak en-gb+m2 140'] as const; // prettier-ignore
/**
 * Reserved for figures: nothing is trained on these or tuned with them, nor with their
 * accents (en-029, gbclan, gbcwmd, nyc) or variants (m4, f3, m6, f5, Andrea, klatt4) in
 * any other combination.
 */
export const FIGURE_VOICES = [
  'flite awb', 'festival ked_diphone', 'espeak en-029+m4 155', 'espeak en-gb-x-gbclan+f3 150',
  'espeak en-us+m6 165', 'espeak en-gb-x-gbcwmd+f5 160', 'espeak en-us-nyc+Andrea 155',
  'espeak en-gb+klatt4 150',
] as const; // prettier-ignore

/**
 * The score is fitted on these (src/voice/decision/calibration.ts): variants that were left out of
 * training as too unlike a person, in none of the two lists above; hard to hear, so that
 * enough is heard wrongly.
 */
export const CALIBRATION_VOICES = [
  'espeak en-gb-scotland+robosoft4 150', 'espeak en-us+whisperf 150', 'espeak en-gb-x-rp+robosoft6 145',
  'espeak en-gb+UniRobot 150', 'espeak en-us+robosoft7 160', 'espeak en-gb-scotland+anikaRobot 150',
] as const; // prettier-ignore

/** How a voice says it this time: a person never says the same twice. */
export interface Manner {
  /** Tempo as a share of the voice's own. */
  readonly tempo: number;
  /** Pitch against the voice's own, in hundredths of a semitone. */
  readonly cents: number;
}
/** Some minutes of talk. */
const MOST_BYTES = 2 ** 25;
const AS_IT_IS: Manner = { tempo: 1, cents: 0 };

/** Says a text: 16 kHz, mono, silence cut from both ends, evened level. */
export function synthesise(voice: string, text: string, manner = AS_IT_IS): Float32Array {
  const folder = mkdtempSync(path.join(tmpdir(), 'say-'));
  const spoken = path.join(folder, 'spoken.wav');
  speak(voice, text, manner, spoken);
  const bytes = execFileSync('sox', [
    '-D', spoken, '-r', '16000', '-c', '1', '-b', '16', '-e', 'signed-integer', '-L', '-t', 'raw', '-',
    ...(manner.cents === 0 ? [] : ['pitch', String(manner.cents)]), 'silence', '1', '0.01', '0.1%',
    'reverse', 'silence', '1', '0.01', '0.1%', 'reverse', 'norm', '-6',
  ], { maxBuffer: MOST_BYTES }); // prettier-ignore
  rmSync(folder, { recursive: true });
  return Float32Array.from(
    { length: bytes.length >> 1 },
    (_, index) => bytes.readInt16LE(2 * index) / 32_768,
  );
}

/** Each program changes the tempo itself, sounds and pauses as its rules say; sox changes the pitch. */
function speak(voice: string, text: string, { tempo }: Manner, file: string): void {
  const [program, name = '', speed = '155'] = voice.split(' ');
  const stretch = (1 / tempo).toFixed(3);
  if (program === 'flite') {
    const args = ['-voice', name, '--setf', `duration_stretch=${stretch}`, '-t', text, '-o', file];
    execFileSync('flite', args);
  } else if (program === 'festival') {
    const setUp = `(begin (voice_${name}) (Parameter.set 'Duration_Stretch ${stretch}))`;
    execFileSync('text2wave', ['-eval', setUp, '-o', file], { input: text });
  } else {
    const wordsPerMinute = String(Math.round(Number(speed) * tempo));
    execFileSync('espeak-ng', ['-v', name, '-s', wordsPerMinute, '-w', file, text]);
  }
}
