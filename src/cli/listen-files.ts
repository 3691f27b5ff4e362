/** What `npm run listen` is given beside recordings: a list of phrases, and a card in folders. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import { soundToPcm, splitWords } from '../voice';
import type { CardTake } from '../voice';
import { openRecording } from './read-recording';

/** One phrase a line, each once, as the listeners write words; at least one. */
export function readPhrases(file: string): Result<readonly string[], Fault> {
  const text = orFault(file, () => readFileSync(file, 'utf8'));
  if (!text.ok) return text;
  const lines = text.value.split('\n').map((line) => splitWords(line).join(' '));
  const phrases = [...new Set(lines.filter(Boolean))];
  return phrases.length > 0 ? ok(phrases) : err(fault('phrases-missing', { file }));
}

/** A folder for each phrase, or for each part that phrases are joined from; every file in one is a recording. */
export function readCard(folder: string): Result<readonly CardTake[], Fault> {
  const files = orFault(folder, () => listRecordings(folder));
  if (!files.ok) return files;
  if (files.value.length === 0) return err(fault('card-recordings-missing', { folder }));
  const takes: CardTake[] = [];
  for (const { text, file } of files.value) {
    const sound = openRecording(file);
    if (!sound.ok) return sound;
    takes.push({ text, pcm: soundToPcm(sound.value) });
  }
  return ok(takes);
}

function listRecordings(
  folder: string,
): readonly { readonly text: string; readonly file: string }[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort()
    .flatMap((name) =>
      readdirSync(path.join(folder, name))
        .sort()
        .map((file) => ({
          text: splitWords(name.replace(/[_-]/g, ' ')).join(' '),
          file: path.join(folder, name, file),
        })),
    );
}

function orFault<T>(file: string, read: () => T): Result<T, Fault> {
  try {
    return ok(read());
  } catch (cause) {
    return err(fault('file-unreadable', { file, detail: String(cause) }));
  }
}
