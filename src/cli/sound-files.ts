/** Where Node finds the recogniser's model and the recordings of a rehearsal. */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
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

/** Reads a file of the phrase network, of the text model, or of their run-time. */
export async function readSpeechFile(name: string): Promise<Uint8Array> {
  return readFile(path.join(speechFolderOf(name), path.basename(name)));
}

function speechFolderOf(name: string): string {
  if (name.endsWith('.wasm')) return path.dirname(require.resolve('onnxruntime-web'));
  if (!name.startsWith('text-model/')) return path.join(ROOT, 'public/model');
  const program = fileURLToPath(import.meta.resolve('@moonshine-ai/moonshine-js'));
  return path.join(path.dirname(program), 'model/tiny/quantized');
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
