/**
 * `npm run listen -- --phrases FILE [--card DIR] [--listener both|grammar|embedding] WAV...`:
 * what the listeners make of recordings, one JSON line each. FILE has one phrase a
 * line; DIR has a folder per phrase with recordings (a voice card). The phrases are
 * whole: an address phrase, where one is said, is part of the line.
 */
import path from 'node:path';
import { err, fault, faultToOperatorText, ok } from '../domain';
import type { Fault, Result } from '../domain';
import { hearRecording, loadOpinionated, NOTHING_HEARD } from './hear-recording';
import type { HeardRecording, OpinionatedEars } from './hear-recording';
import { readCard, readPhrases } from './listen-files';
import { LISTENER_NAMES } from './load-listeners';
import type { ListenerName } from './load-listeners';
import { openRecording } from './read-recording';

interface Options {
  readonly phrases: string;
  readonly card: string | null;
  readonly listener: ListenerName;
  readonly files: readonly string[];
}

/** Exit code 0 where every recording was read, 1 where one was not, 2 where nothing could be listened to. */
export async function run(args: readonly string[]): Promise<number> {
  const loaded = await load(args);
  if (!loaded.ok) {
    console.error(toLine(loaded.error));
    return 2;
  }
  const { files, ears } = loaded.value;
  let code = 0;
  for (const file of files) {
    const heard = await hearFile(ears, file);
    console.log(JSON.stringify({ file, ...(heard.ok ? heard.value : nothingOf(heard.error)) }));
    if (!heard.ok) {
      console.error(toLine(heard.error));
      code = 1;
    }
  }
  await ears.close();
  return code;
}

async function load(
  args: readonly string[],
): Promise<Result<{ readonly files: readonly string[]; readonly ears: OpinionatedEars }, Fault>> {
  const options = readOptions(args);
  if (!options.ok) return options;
  const { listener, files } = options.value;
  const phrases = readPhrases(fromCaller(options.value.phrases));
  if (!phrases.ok) return phrases;
  const takes = options.value.card === null ? ok([]) : readCard(fromCaller(options.value.card));
  if (!takes.ok) return takes;
  const cards = takes.value.length > 0 ? [{ label: 'card', takes: takes.value }] : [];
  return ok({ files, ears: await loadOpinionated(listener, cards, phrases.value) });
}

async function hearFile(
  ears: OpinionatedEars,
  file: string,
): Promise<Result<HeardRecording, Fault>> {
  const sound = openRecording(fromCaller(file));
  return sound.ok ? ok(await hearRecording(ears, sound.value)) : sound;
}

/** A recording that could not be read has its line too. */
function nothingOf({ code }: Fault): HeardRecording & { readonly error: Fault['code'] } {
  return { ...NOTHING_HEARD, error: code };
}

/** npm runs commands in the repository's folder; names are meant from where it was called. */
function fromCaller(file: string): string {
  return path.resolve(process.env['INIT_CWD'] ?? '', file);
}

function toLine(problem: Fault): string {
  const { happened, next } = faultToOperatorText(problem);
  return `${happened}. ${next}`;
}

function readOptions(args: readonly string[]): Result<Options, Fault> {
  const files: string[] = [];
  const given = new Map<string, string>();
  for (let index = 0; index < args.length; index += 1) {
    const arg = args[index] ?? '';
    if (['--phrases', '--card', '--listener'].includes(arg))
      given.set(arg, args[(index += 1)] ?? '');
    else if (arg.startsWith('--')) return wrongUse(`there is no option ${arg}`);
    else files.push(arg);
  }
  const wanted = given.get('--listener') ?? 'both';
  const listener = LISTENER_NAMES.find((name) => name === wanted);
  const phrases = given.get('--phrases');
  const card = given.get('--card') ?? null;
  if (!phrases) return wrongUse('--phrases and its file are missing');
  if (card === '') return wrongUse('--card has no folder');
  if (!listener) return wrongUse(`there is no listener “${wanted}”`);
  return files.length > 0
    ? ok({ phrases, card, listener, files })
    : wrongUse('no recording is named');
}

function wrongUse(problem: string): Result<never, Fault> {
  return err(fault('listen-wrong-use', { problem }));
}
