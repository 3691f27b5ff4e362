/**
 * The sound of a rehearsal's line: the committed recording where there is one, else made
 * on this machine with Debian's flite, kept in .cache, in the same voices.
 */
import { existsSync, mkdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import type { RehearsalLine } from '../session';
import { DEFAULT_ADDRESS_PHRASE, readWav } from '../voice';
import { SPEAKER_VOICES, synthesise, toFileName } from './make-clips';
import { ROOT } from './run-program';
import { loadRehearsalClip } from './sound-files';

const FOLDER = path.join(ROOT, '.cache/rehearsal-lines');

/** The sound of a line as 16 kHz mono samples. */
export async function loadSpokenLine(line: RehearsalLine): Promise<Result<Float32Array, Fault>> {
  const recorded = await loadRehearsalClip(line);
  if (recorded.ok) return recorded;
  const spoken = line.isTalk ? line.words : `${DEFAULT_ADDRESS_PHRASE} ${line.words}`;
  const voice = SPEAKER_VOICES[line.who];
  const file = path.join(FOLDER, `${voice}-${toFileName(spoken)}.wav`);
  try {
    mkdirSync(FOLDER, { recursive: true });
    if (!existsSync(file)) synthesise(spoken, voice, file);
    return ok(readWav(await readFile(file)));
  } catch (cause) {
    return err(fault('rehearsal-clip-missing', { text: line.words, detail: String(cause) }));
  }
}
