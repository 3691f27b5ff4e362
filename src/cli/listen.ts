/**
 * `npm run listen -- --phrases FILE [--card DIR] [--listener both|grammar|embedding] WAV...`:
 * what the listeners make of recordings, one JSON line each. FILE has one phrase a
 * line; DIR has a folder per phrase with recordings (a voice card). The phrases are
 * whole: an address phrase, where one is said, is part of the line.
 */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { soundToPcm, splitWords } from '../voice';
import type { CardTake } from '../voice';
import { hearRecording, loadOpinionated } from './hear-recording';
import { LISTENER_NAMES } from './load-listeners';
import type { ListenerName } from './load-listeners';
import { readRecording } from './read-recording';

interface Options {
  readonly phrases: string;
  readonly card: string | null;
  readonly listener: ListenerName;
  readonly files: readonly string[];
}

/** Exit code 0 where every recording was read, 1 where one was not, 2 for wrong arguments. */
export async function run(args: readonly string[]): Promise<number> {
  const options = readOptions(args);
  if (!options) {
    console.error(
      'Usage: npm run listen -- --phrases FILE [--card DIR] [--listener both|grammar|embedding] WAV...',
    );
    return 2;
  }
  const phrases = readPhrases(options.phrases);
  const cards = options.card ? [{ label: 'card', takes: readCard(options.card) }] : [];
  const ears = await loadOpinionated(options.listener, cards, phrases);
  let code = 0;
  for (const file of options.files) {
    try {
      const heard = await hearRecording(ears, readRecording(file));
      console.log(JSON.stringify({ file, ...heard }));
    } catch (cause) {
      console.error(`${file}: ${cause instanceof Error ? cause.message : String(cause)}`);
      code = 1;
    }
  }
  await ears.close();
  return code;
}

function readOptions(args: readonly string[]): Options | null {
  const files: string[] = [];
  const given = new Map<string, string>();
  for (let index = 0; index < args.length; index += 1) {
    const arg = args[index] ?? '';
    if (['--phrases', '--card', '--listener'].includes(arg))
      given.set(arg, args[(index += 1)] ?? '');
    else if (arg.startsWith('--')) return null;
    else files.push(arg);
  }
  const phrases = given.get('--phrases');
  const listener = LISTENER_NAMES.find((name) => name === (given.get('--listener') ?? 'both'));
  if (!phrases || !listener || files.length === 0) return null;
  return { phrases, card: given.get('--card') ?? null, listener, files };
}

function readPhrases(file: string): readonly string[] {
  const lines = readFileSync(file, 'utf8')
    .split('\n')
    .map((line) => splitWords(line).join(' '));
  return [...new Set(lines.filter(Boolean))];
}

/** A folder for each phrase, or for each part that phrases are joined from. */
function readCard(folder: string): readonly CardTake[] {
  return readdirSync(folder)
    .sort()
    .flatMap((name) =>
      readdirSync(path.join(folder, name))
        .sort()
        .map((file) => ({
          text: splitWords(name.replace(/[_-]/g, ' ')).join(' '),
          pcm: soundToPcm(readRecording(path.join(folder, name, file))),
        })),
    );
}
