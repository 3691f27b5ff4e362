/** People talking who do not mean the wall, from the project's measuring data where it is present. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { readWav } from '../../src/voice';

/** Beside the checkout, or beside the folder of checkouts that it is in. */
const FOLDER =
  ['../../../', '../../../../']
    .map((up) => fileURLToPath(new URL(`${up}shared/data/speech/`, import.meta.url)))
    .find((folder) => existsSync(folder)) ?? '';

/** Which half of the people? Thresholds are set on one half, figures come from the other. */
export type TalkHalf = 'tuning' | 'figures' | 'all';

/** Whether there is any. */
export function hasHumanTalk(): boolean {
  return FOLDER !== '';
}

/** Utterances from all speakers, at 16 kHz, until there are `wantedMs` of them. Needs opusdec. */
export function loadHumanTalk(wantedMs: number, half: TalkHalf = 'all'): Float32Array[] {
  const folder = mkdtempSync(path.join(tmpdir(), 'cuewall-talk-'));
  const files = readdirSync(FOLDER).filter((name) => name.endsWith('.opus'));
  const speakers = [...new Set(files.map(speakerOf))].sort();
  const names = files.filter(
    (name) =>
      half === 'all' || (speakers.indexOf(speakerOf(name)) % 2 === 0) === (half === 'tuning'),
  );
  const pieces: Float32Array[] = [];
  let ms = 0;
  // 97 shares no factor with the number of files: every speaker comes soon, each file once.
  for (let i = 0; i < names.length && ms < wantedMs; i += 1) {
    const wav = path.join(folder, 'one.wav');
    const name = names[(i * 97) % names.length] ?? '';
    execFileSync('opusdec', ['--quiet', '--rate', '16000', path.join(FOLDER, name), wav]);
    const piece = readWav(readFileSync(wav));
    pieces.push(piece);
    ms += piece.length / 16;
  }
  rmSync(folder, { recursive: true });
  return pieces;
}

/** The first five digits of a file's name are the speaker's number. */
function speakerOf(file: string): string {
  return file.slice(0, 5);
}
