/**
 * Makes the recordings that are committed, for a maintainer's machine with Debian's
 * flite, sox and opus-tools: `list-clips segments` feeds `make-clips announcer`
 * (what the wall says, Ogg Opus), `list-clips lines` feeds `make-clips rehearsal`
 * (what its people say, WAV). The same list gives the same files; files that the
 * list no longer names are removed.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { text } from 'node:stream/consumers';
import { DEFAULT_ADDRESS_PHRASE, toClipKey } from '../voice';
import type { RehearsalClip, Speaker } from '../voice';
import { ROOT } from './run-program';

/** Which of flite's voices is whose? The wall must not sound like its people. */
const WALL_VOICE = 'slt';
export const SPEAKER_VOICES: Readonly<Record<Speaker, string>> = { surgeon: 'rms', scrub: 'kal16' };
/** Enough for one voice in a narrow band, in kilobits a second. */
const OPUS_KBIT = '24';
/** The stream's serial number, fixed so that the same text gives the same bytes. */
const OPUS_SERIAL = '1';
/** Cuts silence from the front, turns round, cuts the other end, turns back, and evens the level. */
const TIDY = [
  'silence', '1', '0.01', '0.1%', 'reverse', 'silence', '1', '0.01', '0.1%', 'reverse',
  'pad', '0.02', '0.05', 'norm', '-6',
] as const; // prettier-ignore

/** A line of a rehearsal; talk is said without the address phrase. */
interface Line {
  readonly who: Speaker;
  readonly words: string;
  readonly isTalk: boolean;
}

/** `announcer` or `rehearsal`; the list is read from standard input as JSON. */
export async function run([kind = '']: readonly string[]): Promise<number> {
  const makers: Readonly<Record<string, (list: unknown) => number>> = {
    announcer: (list) => makeAnnouncerClips(list as readonly string[]),
    rehearsal: (list) => makeRehearsalClips(list as readonly Line[]),
  };
  const make = makers[kind];
  if (!make) {
    console.error('Give "announcer" or "rehearsal", and the list on standard input.');
    return 2;
  }
  console.log(`${make(JSON.parse(await text(process.stdin)))} clips`);
  return 0;
}

function makeAnnouncerClips(segments: readonly string[]): number {
  const folder = openFolder('clips');
  const manifest: Record<string, string> = {};
  for (const key of [...new Set(segments.map(toClipKey))].sort()) {
    const file = `${toFileName(key)}.opus`;
    manifest[key] = file;
    const target = path.join(folder, file);
    if (existsSync(target)) continue;
    const wav = path.join(tmpdir(), `${toFileName(key)}.wav`);
    synthesise(key, WALL_VOICE, wav);
    execFileSync('opusenc', [
      '--quiet', '--bitrate', OPUS_KBIT, '--serial', OPUS_SERIAL, '--discard-comments', wav, target,
    ]); // prettier-ignore
    rmSync(wav);
  }
  return finish(folder, manifest, Object.values(manifest));
}

function makeRehearsalClips(lines: readonly Line[]): number {
  const folder = openFolder('rehearsal-clips');
  const clips = new Map<string, RehearsalClip>();
  for (const { who, words, isTalk } of lines) {
    const file = `${who}-${toFileName(words)}.wav`;
    clips.set(file, { words, speaker: who, file, isTalk });
    const target = path.join(folder, file);
    const spoken = isTalk ? words : `${DEFAULT_ADDRESS_PHRASE} ${words}`;
    if (!existsSync(target)) synthesise(spoken, SPEAKER_VOICES[who], target);
  }
  const manifest = [...clips.values()].sort((a, b) => (a.file < b.file ? -1 : 1));
  return finish(folder, manifest, [...clips.keys()]);
}

function openFolder(name: string): string {
  const folder = path.join(ROOT, 'src/voice', name);
  mkdirSync(folder, { recursive: true });
  return folder;
}

/** Speaks a text into a WAV file: 16 kHz, mono, 16 bits. */
export function synthesise(spoken: string, voice: string, target: string): void {
  const raw = `${target}.raw.wav`;
  execFileSync('flite', ['-voice', voice, '-t', spoken, '-o', raw]);
  execFileSync('sox', ['-D', raw, '-r', '16000', '-c', '1', '-b', '16', target, ...TIDY]);
  rmSync(raw);
}

/** Writes the manifest and removes what it does not name. Gives the number of clips. */
function finish(folder: string, manifest: unknown, files: readonly string[]): number {
  writeFileSync(path.join(folder, 'manifest.json'), `${JSON.stringify(manifest, null, 2)}\n`);
  const kept = new Set([...files, 'manifest.json']);
  for (const file of readdirSync(folder)) if (!kept.has(file)) rmSync(path.join(folder, file));
  return kept.size - 1;
}

/** Readable, and different for texts that differ only in punctuation. */
export function toFileName(words: string): string {
  const readable = words
    .replace(/[^a-z0-9]+/gi, '-')
    .replace(/^-|-$/g, '')
    .toLowerCase();
  const mark = createHash('sha256').update(words).digest('hex').slice(0, 4);
  return `${readable.slice(0, 40)}-${mark}`;
}
