/**
 * `npm run bench -- address`: which address phrase is missed least and heard least
 * where nobody said it. Needs flite, espeak-ng, sox and, for human talk, opusdec and
 * the project's measuring data. Voices are synthetic: read the misses as an order,
 * not as what people will meet.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { GrammarListener, readWav } from '../../src/voice';
import { hearAll, MODEL_BASE, vocabularyOf } from '../voice/real-listener';
import { hasHumanTalk, loadHumanTalk } from './human-talk';

const CANDIDATES = [
  'theatre wall', 'hello wall', 'attention wall', 'listen wall', 'dear wall', 'wall please',
  'team wall', 'theatre record',
] as const; // prettier-ignore
const COMMANDS = ['step done', 'what is next', 'confirm', 'depth two four', 'pin out'] as const;
const VOICES = [
  ['flite', 'slt'], ['flite', 'rms'], ['flite', 'awb'], ['flite', 'kal16'],
  ['espeak-ng', 'en-us'], ['espeak-ng', 'en-us+f4'], ['espeak-ng', 'en-gb-scotland+f2'],
] as const; // prettier-ignore
/** How much human talk does each candidate hear? Half an hour. */
const TALK_MS = 1_800_000;

/** Runs all of it; some ten minutes. */
export async function benchAddress(): Promise<object> {
  const folder = mkdtempSync(path.join(tmpdir(), 'cuewall-address-'));
  const listener = await GrammarListener.create({ modelBase: MODEL_BASE }, () => 0);
  const talk = hasHumanTalk() ? loadHumanTalk(TALK_MS) : [];
  const rows: object[] = [];
  for (const address of CANDIDATES) {
    const vocabulary = vocabularyOf(COMMANDS, address);
    const counts = { said: 0, flite: 0, espeak: 0, wrong: 0, falseActivations: 0 };
    for (const [program, voice] of VOICES) {
      for (const words of COMMANDS) {
        const sound = speak(program, voice, `${address} ${words}`, folder);
        const taken = (await hearAll(listener, vocabulary, sound)).find(
          (one) => one.words !== null,
        );
        counts.said += 1;
        if (taken?.words === words) counts[program === 'flite' ? 'flite' : 'espeak'] += 1;
        else if (taken) counts.wrong += 1;
      }
    }
    for (const sound of talk) {
      const heard = await hearAll(listener, vocabulary, sound);
      counts.falseActivations += heard.filter(({ words }) => words !== null).length;
    }
    rows.push({ address, ...counts });
    console.log(JSON.stringify(rows.at(-1)));
  }
  rmSync(folder, { recursive: true });
  await listener.close();
  return { talkMs: Math.round(talk.reduce((sum, { length }) => sum + length / 16, 0)), rows };
}

function speak(program: string, voice: string, text: string, folder: string): Float32Array {
  const [raw, wav] = [path.join(folder, 'raw.wav'), path.join(folder, 'one.wav')];
  if (program === 'flite') execFileSync('flite', ['-voice', voice, '-t', text, '-o', raw]);
  else execFileSync('espeak-ng', ['-v', voice, '-s', '155', '-w', raw, text]);
  execFileSync('sox', ['-D', raw, '-r', '16000', '-c', '1', '-b', '16', wav, 'norm', '-6']);
  return readWav(readFileSync(wav));
}
