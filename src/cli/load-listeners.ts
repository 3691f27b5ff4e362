/** The listeners as the browser's worker builds them, for Node. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import {
  EmbeddingListener,
  GrammarListener,
  MelFilter,
  NetworkListener,
  readTemplates,
  SpeechEmbedding,
  TwoListeners,
} from '../voice';
import type { Embedder, Listener, PhraseTemplate } from '../voice';
import { ROOT } from './run-program';
import { MODEL_FILES, readSpeechFile } from './sound-files';

export const LISTENER_NAMES = ['both', 'grammar', 'embedding'] as const;
export type ListenerName = (typeof LISTENER_NAMES)[number];

const nowMs = (): number => performance.now();

/** Loads one listener or both, with these examples and, where one is given, this embedding. */
export async function loadListener(
  name: ListenerName,
  examples: readonly PhraseTemplate[] = loadBuiltInTemplates(),
  given?: Embedder,
): Promise<Listener> {
  if (name === 'grammar') return GrammarListener.create(MODEL_FILES, nowMs);
  const embedding = given ?? (await SpeechEmbedding.create(readSpeechFile));
  const known = new EmbeddingListener(embedding, examples, nowMs);
  if (name === 'embedding') return known;
  const grammar = await GrammarListener.create(MODEL_FILES, nowMs);
  const filter =
    embedding instanceof SpeechEmbedding
      ? embedding.filter
      : await MelFilter.create(readSpeechFile);
  const network = await NetworkListener.create(readSpeechFile, filter);
  return new TwoListeners(grammar, known, nowMs, network);
}

/** The examples that are shipped for the built-in procedures. */
export function loadBuiltInTemplates(): readonly PhraseTemplate[] {
  const folder = path.join(ROOT, 'public/model/templates');
  return readdirSync(folder)
    .filter((name) => name.endsWith('.bin'))
    .flatMap((name) => readTemplates(readFileSync(path.join(folder, name))));
}
