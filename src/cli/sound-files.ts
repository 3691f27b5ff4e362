/** Where Node finds the recogniser's model and the recordings of a rehearsal. */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import path from 'node:path';
import type { Fault, Result } from '../domain';
import type { RehearsalLine } from '../session';
import { RehearsalSpeaker } from '../voice';
import type { ModelFiles } from '../voice';
import { ROOT } from './run-program';

const require = createRequire(import.meta.url);

/** The model inside the installed package. */
export const MODEL_FILES: ModelFiles = {
  modelBase: `${path.join(path.dirname(require.resolve('soundswallower')), 'model')}/`,
};

/** Reads a file of the phrase network, or of its run-time. */
export async function readSpeechFile(name: string): Promise<Uint8Array> {
  const runtime = path.join(path.dirname(require.resolve('onnxruntime-web')), name);
  return readFile(name.endsWith('.wasm') ? runtime : path.join(ROOT, 'public/model', name));
}

const speaker = new RehearsalSpeaker((file) =>
  readFile(path.join(ROOT, 'src/voice/rehearsal-clips', file)),
);

/** The recording of a line, as 16 kHz mono samples. */
export function loadRehearsalClip(
  line: Pick<RehearsalLine, 'words' | 'who'>,
): Promise<Result<Float32Array, Fault>> {
  return speaker.say(line.words, line.who);
}
