import { describe, expect, it } from 'vitest';
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { loadBuiltIn } from '../../src/procedure';
import { listAllPhrases } from '../../src/cli/all-phrases';
import { loadBoth } from '../../src/cli/load-listeners';
import { MODEL_FILES } from '../../src/cli/sound-files';
import { synthesise } from '../../src/cli/spoken-voices';
import { languageOf, learnAll, SpokenVocabulary, soundToPcm } from '../../src/voice';
import type { Vocabulary } from '../../src/domain';
import { FRENCH } from '../support/french';

function flagship(): readonly string[] {
  const compiled = loadBuiltIn('reverse-shoulder');
  if (!compiled.ok) throw new Error(compiled.error.code);
  return listAllPhrases(compiled.value);
}

const vocabularyOf = (phrases: readonly string[]): Vocabulary => ({
  addressPhrase: 'theatre wall',
  phrases: phrases.map((words) => ({
    words,
    order: { type: 'capture.offer', capture: 'said' as never, value: words },
  })),
});

describe('another language', () => {
  it('[LANG7] that is not known is said, and never taken for English', () => {
    for (const tag of ['de-DE', 'en-US', 'fr', '', 'not a language'])
      expect(languageOf(tag)).toMatchObject({ error: { code: 'language-unknown' } });
    // ISO 639-1: "de" is German.
    expect(languageOf('de-DE')).toMatchObject({ error: { params: { language: 'German' } } });
  });

  it('[LANG1] has words for every phrase of the flagship, no two of them alike', () => {
    const phrases = flagship();
    const spoken = new SpokenVocabulary(FRENCH);
    const [said, faults] = spoken.translate(vocabularyOf(phrases));
    expect(faults).toEqual([]);
    expect(new Set(said.phrases.map(({ words }) => words)).size).toBe(phrases.length);
    for (const [index, { words }] of said.phrases.entries())
      expect(
        spoken.toWritten({ words, score: 1, listener: '', speechMs: 0, decisionMs: 0 }).words,
      ).toBe(phrases[index]);
  }, 60_000);

  it('[LANG1] gives back the phrase that was spoken, also among the doubtful ones', () => {
    const spoken = new SpokenVocabulary(FRENCH);
    const [said] = spoken.translate(vocabularyOf(['depth two four', 'post two four']));
    expect(said.addressPhrase).toBe('mur du bloc');
    expect(said.phrases.map(({ words }) => words)).toEqual([
      'profondeur deux quatre',
      'plot deux quatre',
    ]);
    const heard = spoken.toWritten({
      words: null, score: 0, listener: 'both', speechMs: 900, decisionMs: 9,
      candidates: ['profondeur deux quatre', 'plot deux quatre'],
    }); // prettier-ignore
    expect(heard.candidates).toEqual(['depth two four', 'post two four']);
  });

  it('[LANG2] leaves a phrase without words out and reports it', () => {
    const [said, faults] = new SpokenVocabulary(FRENCH).translate(
      vocabularyOf(['step done', 'patella resurfaced']),
    );
    expect(said.phrases.map(({ words }) => words)).toEqual(['étape terminée']);
    expect(faults).toEqual([
      {
        code: 'phrase-not-in-language',
        params: { words: 'patella resurfaced', language: 'Français' },
      },
    ]);
  });

  it('[LANG3] has only phones of its model, for words that the dictionary lacks', () => {
    // The dictionary and the phone set come with the model (its makers' files).
    const model = path.join(MODEL_FILES.modelBase, FRENCH.model);
    const dictionary = new Set(
      readFileSync(path.join(model, 'dict.txt'), 'utf8').split('\n').map((line) => line.split(' ')[0]),
    ); // prettier-ignore
    const phones = Object.keys(
      JSON.parse(readFileSync(path.join(model, 'phoneset.json'), 'utf8')) as object,
    );
    expect([...FRENCH.phones, 'SIL'].toSorted()).toEqual(phones.toSorted());
    for (const [word, ways] of Object.entries(FRENCH.lexicon)) {
      expect(dictionary.has(word), word).toBe(false);
      for (const phone of ways.flatMap((way) => way.split(' '))) expect(phones).toContain(phone);
    }
    const words = [FRENCH.addressPhrase, ...Object.values(FRENCH.says ?? {})].join(' ').split(' ');
    const missing = words.filter((word) => !dictionary.has(word) && !(word in FRENCH.lexicon));
    expect(missing).toEqual([]);
  });
});

/** What one says in the reaming and post phases; all of it legal at once. */
const SAID = [
  'step done', 'what is next', 'say again', 'confirm', 'wrong cancel that', 'depth one six', 'depth two four',
  'depth three two', 'post two eight', 'post two zero', 'wedge one six', 'glenosphere four four', 'pin placed',
  'taper checked',
] as const; // prettier-ignore
/** What the card's voice reads: whole commands, and parts that sizes are joined from. */
const READ = [
  'step done', 'what is next', 'say again', 'confirm', 'wrong cancel that', 'pin placed', 'taper checked',
  'depth', 'post', 'wedge', 'glenosphere',
] as const; // prettier-ignore
const DIGITS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

const hasEspeak = canRun('espeak-ng') && canRun('sox');
if (!hasEspeak) console.log('Skipped: French by espeak-ng, which is not on this machine.');

describe.skipIf(!hasEspeak)('French through the real listeners', () => {
  it('[LANG4] is heard with a card of the same voice, spoken faster', async () => {
    const spoken = new SpokenVocabulary(FRENCH);
    const [vocabulary] = spoken.translate(vocabularyOf(SAID));
    const say = (words: string, speed: number): Float32Array =>
      synthesise(`espeak fr+m3 ${speed}`, words);
    const said = (words: string): string => spoken.say(words) ?? '';
    const takes = [140, 155].flatMap((speed) => [
      ...READ.map((words) => {
        const text = `${FRENCH.addressPhrase} ${said(words)}`;
        return { text, pcm: soundToPcm(say(text, speed)) };
      }),
      ...DIGITS.map((words) => ({ text: said(words), pcm: soundToPcm(say(said(words), speed)) })),
    ]);
    const both = await loadBoth(FRENCH);
    await both.setVocabulary(vocabulary);
    await both.setCards([{ label: 'surgeon A', takes }]);
    await learnAll(both);
    const counts = { nearest: 0, right: 0, wrong: 0 };
    for (const words of SAID) {
      const sound = around(say(`${FRENCH.addressPhrase} ${said(words)}`, 170));
      const heard = spoken.toWritten(await both.recognise(sound));
      if (heard.words === words) counts.right += 1;
      else if (heard.words !== null) counts.wrong += 1;
      const [nearest] = (await both.network.consider(sound)).ranked;
      if (nearest?.words === said(words)) counts.nearest += 1;
    }
    await both.close();
    console.log(`French, card of one synthetic voice: ${JSON.stringify(counts)} of ${SAID.length}`);
    expect(counts.wrong).toBe(0);
    expect(counts.nearest).toBeGreaterThanOrEqual(SAID.length - 1);
  }, 120_000);
});

/** Quiet of a room around a recording, as a microphone gives it. */
function around(sound: Float32Array): Float32Array {
  const out = new Float32Array(sound.length + 9_600);
  let seed = 7;
  for (let at = 0; at < out.length; at += 1) {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
    out[at] = (seed / 2_147_483_648 - 1) * 0.001 + (sound[at - 4_800] ?? 0);
  }
  return out;
}

function canRun(program: string): boolean {
  try {
    execFileSync(program, ['--version'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}
