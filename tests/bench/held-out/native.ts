/**
 * A native recogniser beside ours: Debian's pocketsphinx with its own en-us model and the
 * very grammars that our listener gets, on the same sounds. It has no address check, no
 * refusal and no voice activity: compare it with our grammar's likeliest phrase.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { vocabularyToGrammar } from '../../../src/voice';
import { LEXICON } from '../../../src/voice/lexicon';
import { soundOf } from './commands';
import type { Trial } from './commands';
import { vocabularyOf } from './moments';
import { judge, Tallies } from './tally';

const PROGRAM = '/usr/bin/pocketsphinx_batch';
const MODEL = '/usr/share/pocketsphinx/model/en-us';

export function hearNatively(trials: readonly Trial[], talk: readonly Float32Array[]): object {
  if (!existsSync(PROGRAM) || !existsSync(MODEL)) {
    const skipped = 'Debian packages pocketsphinx and pocketsphinx-en-us are not installed';
    console.log(`skipped: ${skipped}`);
    return { skipped };
  }
  const words = loadDictionary();
  const tallies = new Tallies();
  const groups = groupBy(trials, ({ moment }) => moment.legal);
  for (const [legal, group] of groups) {
    const folder = mkdtempSync(path.join(tmpdir(), 'native-'));
    const { jsgf, phraseOf } = vocabularyToGrammar(vocabularyOf(legal), () => true);
    writeFileSync(path.join(folder, 'commands.gram'), jsgf ?? '');
    writeFileSync(path.join(folder, 'words.dict'), dictionaryFor(jsgf ?? '', words));
    mkdirSync(path.join(folder, 'sound'));
    group.forEach((trial, index) => {
      writeFileSync(path.join(folder, 'sound', `${index}.raw`), toInt16(soundOf(trial, talk)));
    });
    const texts = decodeAll(folder, group.length);
    group.forEach(({ moment, condition }, index) => {
      const heard = phraseOf.get(texts[index] ?? '') ?? null;
      const phrase = { words: heard, score: 0, listener: '', speechMs: 0, decisionMs: 0 };
      const outcome = judge(moment.words, legal, [phrase]);
      const level = condition.snrDb === null ? condition.name : `all noises ${condition.snrDb} dB`;
      tallies.of(`${level} | native`).add(outcome, false, false);
    });
    rmSync(folder, { recursive: true });
  }
  return { rows: tallies.rows };
}

function decodeAll(folder: string, count: number): readonly string[] {
  const control = path.join(folder, 'list');
  const result = path.join(folder, 'heard');
  writeFileSync(control, Array.from({ length: count }, (_, index) => `${index}\n`).join(''));
  const options = {
    '-hmm': `${MODEL}/en-us`, '-dict': path.join(folder, 'words.dict'),
    '-jsgf': path.join(folder, 'commands.gram'), '-ctl': control, '-hyp': result,
    '-cepdir': path.join(folder, 'sound'), '-cepext': '.raw', '-adcin': 'yes',
    '-samprate': '16000', '-logfn': '/dev/null',
  }; // prettier-ignore
  execFileSync(PROGRAM, Object.entries(options).flat(), { stdio: 'ignore' });
  // One line a sound: the words, then the sound's name and a score in brackets.
  return readFileSync(result, 'utf8')
    .split('\n')
    .map((line) => line.replace(/\s*\(.*$/, '').trim());
}

/** Every word's lines in the model's dictionary. */
function loadDictionary(): ReadonlyMap<string, readonly string[]> {
  const lines = readFileSync(`${MODEL}/cmudict-en-us.dict`, 'utf8').split('\n');
  return groupBy(lines, (line) => line.split(/[ (]/)[0] ?? '');
}

function groupBy<K, T>(list: readonly T[], keyOf: (item: T) => K): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const item of list) {
    const group = groups.get(keyOf(item));
    if (group) group.push(item);
    else groups.set(keyOf(item), [item]);
  }
  return groups;
}

function dictionaryFor(jsgf: string, known: ReadonlyMap<string, readonly string[]>): string {
  const used = new Set(jsgf.toLowerCase().match(/[a-z][a-z']*/g) ?? []);
  return [...used]
    .flatMap((word) => known.get(word) ?? listPronunciations(word))
    .map((line) => `${line}\n`)
    .join('');
}

function listPronunciations(word: string): readonly string[] {
  return (LEXICON[word] ?? []).map((phones, index) =>
    index === 0 ? `${word} ${phones}` : `${word}(${index + 1}) ${phones}`,
  );
}

function toInt16(sound: Float32Array): Buffer {
  const out = Buffer.alloc(sound.length * 2);
  sound.forEach((x, index) =>
    out.writeInt16LE(Math.round(Math.max(-1, Math.min(0.99997, x)) * 32_768), 2 * index),
  );
  return out;
}
