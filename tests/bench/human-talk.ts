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

/** One utterance: whose, what its transcript says, and its sound at 16 kHz, decoded when asked for. */
export interface HumanTalk {
  readonly speaker: string;
  readonly text: string;
  sound(): Float32Array;
}

/** All utterances of these speakers, each once, every speaker soon. Needs opusdec. */
export function listHumanTalk(half: TalkHalf): readonly HumanTalk[] {
  const texts = readTranscripts();
  const files = readdirSync(FOLDER).filter((name) => name.endsWith('.opus'));
  const speakers = [...new Set(files.map(speakerOf))].sort();
  const names = files.filter(
    (name) =>
      half === 'all' || (speakers.indexOf(speakerOf(name)) % 2 === 0) === (half === 'tuning'),
  );
  // 97 shares no factor with the number of files: every speaker comes soon, each file once.
  return names.map((_, index) => {
    const name = names[(index * 97) % names.length] ?? '';
    const text = texts.get(path.basename(name, '.opus')) ?? '';
    return { speaker: speakerOf(name), text, sound: () => decode(name) };
  });
}

/** Utterances from all speakers until there are `wantedMs` of them. */
export function loadHumanTalk(wantedMs: number, half: TalkHalf = 'all'): Float32Array[] {
  const pieces: Float32Array[] = [];
  let ms = 0;
  for (const { sound } of listHumanTalk(half)) {
    if (ms >= wantedMs) break;
    const piece = sound();
    pieces.push(piece);
    ms += piece.length / 16;
  }
  return pieces;
}

function decode(name: string): Float32Array {
  const folder = mkdtempSync(path.join(tmpdir(), 'cuewall-talk-'));
  const wav = path.join(folder, 'one.wav');
  execFileSync('opusdec', ['--quiet', '--rate', '16000', path.join(FOLDER, name), wav]);
  const piece = readWav(readFileSync(wav));
  rmSync(folder, { recursive: true });
  return piece;
}

/** By file: id, speaker and text in columns, under a line of their names. */
function readTranscripts(): ReadonlyMap<string, string> {
  const lines = readFileSync(path.join(FOLDER, 'transcripts.tsv'), 'utf8').split('\n').slice(1);
  return new Map(lines.map((line) => line.split('\t')).map(([id = '', , text = '']) => [id, text]));
}

/** The first five digits of a file's name are the speaker's number. */
function speakerOf(file: string): string {
  return file.slice(0, 5);
}
