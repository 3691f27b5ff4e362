/**
 * A native recogniser beside ours: Debian's pocketsphinx with its own en-us model and the
 * very grammars that our listener gets, on the same sounds. It has no address check, no
 * refusal and no voice activity: compare it with our grammar's likeliest phrase.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { splitWords, vocabularyToGrammar } from '../../../src/voice';
import { LEXICON } from '../../../src/voice/languages/lexicon';
import { writeOutGrammar } from '../../support/written-out-grammar';
import { place } from './conditions';
import { speakHuman } from './false-activations';
import type { TalkPlan } from './false-activations';
import { findBusiest, isValue, vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';
import { judge, Tallies } from './tally';
import { soundOf } from './trials';
import type { Trial } from './trials';

const PROGRAM = '/usr/bin/pocketsphinx_batch';
const MODEL = '/usr/share/pocketsphinx/model/en-us';

/** Commands by level, and how much talk it takes for one of them: it has to find some phrase in everything. */
export function hearNatively(
  trials: readonly Trial[],
  talkPlan: Pick<TalkPlan, 'half' | 'mostHours'>,
  babble: readonly Float32Array[],
): object {
  if (!existsSync(PROGRAM) || !existsSync(MODEL)) {
    const skipped = 'Debian packages pocketsphinx and pocketsphinx-en-us are not installed';
    console.log(`skipped: ${skipped}`);
    return { skipped };
  }
  const words = loadDictionary();
  const tallies = new Tallies();
  for (const [legal, group] of groupBy(trials, ({ moment }) => moment.legal)) {
    const heard = decode(legal, words, group.map((trial) => () => soundOf(trial, babble))); // prettier-ignore
    group.forEach(({ moment, condition }, index) => {
      const phrase = { score: 0, listener: '', speechMs: 0, decisionMs: 0 };
      const outcome = judge(moment.words, legal, [{ ...phrase, words: heard[index] ?? null }]);
      const level = condition.snrDb === null ? condition.name : `all noises ${condition.snrDb} dB`;
      const spoken = legal.find(({ words: text }) => text === moment.words);
      tallies.of(`${level} | native`).add(outcome, isValue(spoken), null);
    });
  }
  return { rows: tallies.rows, onTalk: hearTalkNatively(talkPlan, words, babble) };
}

function hearTalkNatively(
  { half, mostHours }: Pick<TalkPlan, 'half' | 'mostHours'>,
  words: Dictionary,
  babble: readonly Float32Array[],
): object {
  const sounds: (() => Float32Array)[] = [];
  let hours = 0;
  for (const { sound, room, seed } of speakHuman(half, { index: 0, count: 1 })) {
    if (hours >= mostHours) break;
    hours += sound.length / 16_000 / 3_600;
    sounds.push(() => place(sound, room, seed, babble));
  }
  const heard = sounds.length === 0 ? [] : decode(findBusiest().legal, words, sounds);
  const taken = heard.filter((phrase) => phrase !== null).length;
  const perHour = Number((taken / hours).toFixed(1));
  return { hours: Number(hours.toFixed(2)), stretches: sounds.length, taken, perHour };
}

/** The legal phrase that it makes of each sound; null where it finds none. */
function decode(
  legal: SpokenMoment['legal'],
  words: Dictionary,
  sounds: readonly (() => Float32Array)[],
): readonly (string | null)[] {
  const folder = mkdtempSync(path.join(tmpdir(), 'native-'));
  const { address, phraseOf } = vocabularyToGrammar(vocabularyOf(legal), () => true);
  const jsgf = writeOutGrammar(
    address.join(' '),
    [...phraseOf.values()].map((words) => splitWords(words).join(' ')),
  );
  writeFileSync(path.join(folder, 'commands.gram'), jsgf);
  writeFileSync(path.join(folder, 'words.dict'), dictionaryFor(jsgf, words));
  mkdirSync(path.join(folder, 'sound'));
  for (const [index, sound] of sounds.entries())
    writeFileSync(path.join(folder, 'sound', `${index}.raw`), toInt16(sound()));
  const texts = decodeAll(folder, sounds.length);
  rmSync(folder, { recursive: true });
  return sounds.map((_, index) => phraseOf.get(texts[index] ?? '') ?? null);
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

type Dictionary = ReadonlyMap<string, readonly string[]>;

/** Every word's lines in the model's dictionary. */
function loadDictionary(): Dictionary {
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

function dictionaryFor(jsgf: string, known: Dictionary): string {
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
