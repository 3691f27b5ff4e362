/**
 * Makes the templates of the built-in procedures (public/model/templates), on a
 * maintainer's machine with Debian's flite, espeak-ng and sox. The same phrases give
 * the same files; index.json names them.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { listBuiltIn, loadBuiltIn } from '../procedure';
import { DEFAULT_ADDRESS_PHRASE, SpeechEmbedding, writeTemplates } from '../voice';
import type { PhraseTemplate } from '../voice';
import { listAllPhrases } from './all-phrases';
import { loadBuiltInTemplates } from './load-listeners';
import { ROOT } from './run-program';
import { readSpeechFile } from './sound-files';
import { synthesise, TEMPLATE_VOICES } from './spoken-voices';

export async function run(): Promise<number> {
  const folder = path.join(ROOT, 'public/model/templates');
  mkdirSync(folder, { recursive: true });
  // Delete the folder to make everything anew, as after a change of voices or of the embedding.
  const kept = loadBuiltInTemplates();
  const embedding = await SpeechEmbedding.create(readSpeechFile);
  // What an earlier procedure's file has is not made again: the wall loads all of them.
  const made = new Set<string>();
  for (const { id } of listBuiltIn()) {
    const compiled = loadBuiltIn(id);
    if (!compiled.ok) continue;
    const phrases = listAllPhrases(compiled.value).filter((words) => !made.has(words));
    for (const words of phrases) made.add(words);
    const bytes = writeTemplates(await makeAll(embedding, phrases, kept));
    writeFileSync(path.join(folder, `${id}.bin`), bytes);
    console.log(`${id}: ${bytes.length} bytes`);
  }
  const names = listBuiltIn().map(({ id }) => `${id}.bin`);
  writeFileSync(path.join(folder, 'index.json'), `${JSON.stringify(names)}\n`);
  await embedding.close();
  return 0;
}

async function makeAll(
  embedding: SpeechEmbedding,
  phrases: readonly string[],
  kept: readonly PhraseTemplate[],
): Promise<readonly PhraseTemplate[]> {
  const examples: PhraseTemplate[] = [];
  for (const words of phrases) {
    const text = `${DEFAULT_ADDRESS_PHRASE} ${words}`;
    for (const voice of TEMPLATE_VOICES) {
      const old = kept.find((known) => known.text === text && known.voice === voice);
      examples.push(
        old ?? { text, voice, vectors: await embedding.embed(synthesise(voice, text)) },
      );
    }
  }
  return examples;
}
