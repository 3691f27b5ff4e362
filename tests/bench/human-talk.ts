/** People talking who do not mean the wall, from the project's measuring data where it is present. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { readWav } from '../../src/voice';

const FOLDER = fileURLToPath(new URL('../../../shared/data/speech/', import.meta.url));

/** Whether there is any. */
export function hasHumanTalk(): boolean {
  return existsSync(FOLDER);
}

/** Utterances from all speakers, at 16 kHz, until there are `wantedMs` of them. Needs opusdec. */
export function loadHumanTalk(wantedMs: number): Float32Array[] {
  const folder = mkdtempSync(path.join(tmpdir(), 'cuewall-talk-'));
  const names = readdirSync(FOLDER).filter((name) => name.endsWith('.opus'));
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
