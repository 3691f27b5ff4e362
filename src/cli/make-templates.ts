/**
 * Makes the templates of the built-in procedures (public/model/templates), on a
 * maintainer's machine with Debian's flite, espeak-ng and sox. The same phrases give
 * the same files. `--phrases` only prints how many phrases there are.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { listBuiltIn, loadBuiltIn } from '../procedure';
import { DEFAULT_ADDRESS_PHRASE, SpeechEmbedding, writeTemplates } from '../voice';
import type { PhraseTemplate } from '../voice';
import { listAllPhrases } from './all-phrases';
import { ROOT } from './run-program';
import { readSpeechFile } from './sound-files';
import { synthesise, TEMPLATE_VOICES } from './spoken-voices';

export async function run(): Promise<number> {
  const folder = path.join(ROOT, 'public/model/templates');
  mkdirSync(folder, { recursive: true });
  const embedding = await SpeechEmbedding.create(readSpeechFile);
  for (const { id } of listBuiltIn()) {
    const compiled = loadBuiltIn(id);
    if (!compiled.ok) continue;
    const bytes = writeTemplates(await makeAll(embedding, listAllPhrases(compiled.value)));
    writeFileSync(path.join(folder, `${id}.bin`), bytes);
    console.log(`${id}: ${bytes.length} bytes`);
  }
  await embedding.close();
  return 0;
}

async function makeAll(
  embedding: SpeechEmbedding,
  phrases: readonly string[],
): Promise<readonly PhraseTemplate[]> {
  const made: PhraseTemplate[] = [];
  for (const words of phrases) {
    const text = `${DEFAULT_ADDRESS_PHRASE} ${words}`;
    for (const voice of TEMPLATE_VOICES) {
      made.push({ text, voice, vectors: await embedding.embed(synthesise(voice, text)) });
    }
  }
  return made;
}
