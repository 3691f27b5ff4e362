/**
 * `npx tsx src/cli/main.ts make-training-pack TALK FOLDER`: what the phrase network is trained
 * from (src/voice/model-recipe): every phrase, sounds of words, and people's read sentences of
 * the tuning half. TALK is a folder with transcripts.tsv (id, speaker, text) and ID.opus.
 */
import { copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { listBuiltIn, loadBuiltIn } from '../procedure';
import { LANGUAGES } from '../voice';
import { listAllPhrases } from './all-phrases';
import { MODEL_FILES } from './sound-files';

/** One word of so many in the dictionary is used for talk: enough, and not only rare ones. */
const EVERY_WORD = 4;

export async function run([talkFolder, folder]: readonly string[]): Promise<number> {
  if (talkFolder === undefined || folder === undefined) {
    console.error('Usage: make-training-pack TALK FOLDER');
    return 2;
  }
  mkdirSync(path.join(folder, 'talk'), { recursive: true });
  const talk = listTuningTalk(talkFolder);
  for (const [id] of talk) {
    copyFileSync(path.join(talkFolder, `${id}.opus`), path.join(folder, 'talk', `${id}.opus`));
  }
  const sounds = readSounds();
  const words = Object.keys(sounds).filter((word) => /^[a-z']{3,}$/.test(word));
  const dictionary = words.filter((_, index) => index % EVERY_WORD === 0);
  const phrases = [
    ...new Set(
      listBuiltIn().flatMap(({ id }) => {
        const compiled = loadBuiltIn(id);
        return compiled.ok ? listAllPhrases(compiled.value) : [];
      }),
    ),
  ];
  const pack = { phrases, phones: LANGUAGES[0].phones, talk, dictionary, sounds };
  writeFileSync(path.join(folder, 'pack.json'), JSON.stringify(pack));
  console.log(`${phrases.length} phrases, ${talk.length} sentences, ${dictionary.length} words`);
  return 0;
}

/** First pronunciation of each word: the model's dictionary, then the lexicon. */
function readSounds(): Record<string, readonly string[]> {
  const text = readFileSync(
    path.join(MODEL_FILES.modelBase, LANGUAGES[0].model, 'dict.txt'),
    'utf8',
  );
  const sounds: Record<string, readonly string[]> = {};
  for (const line of text.split('\n')) {
    const [word = '', ...phones] = line.trim().split(/\s+/);
    if (phones.length > 0 && !word.startsWith(';;') && !word.includes('(')) sounds[word] = phones;
  }
  for (const [word, [first = '']] of Object.entries(LANGUAGES[0].lexicon)) {
    sounds[word] ??= first.split(' ');
  }
  return sounds;
}

/** The half whose speakers stand at even places, as tests/bench/human-talk.ts parts them: id and text. */
function listTuningTalk(folder: string): readonly (readonly [string, string])[] {
  const ids = readdirSync(folder).flatMap((name) => /^(\d+)\.opus$/.exec(name)?.[1] ?? []);
  const speakers = [...new Set(ids.map((id) => id.slice(0, 5)))].sort();
  const known = new Set(ids);
  const [, ...rows] = readFileSync(path.join(folder, 'transcripts.tsv'), 'utf8').trim().split('\n');
  return rows
    .map((row) => row.split('\t'))
    .filter(([id = '']) => known.has(id) && speakers.indexOf(id.slice(0, 5)) % 2 === 0)
    .map(([id = '', , text = '']) => [id, text.toLowerCase().trim()] as const);
}
