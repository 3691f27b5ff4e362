/**
 * `npm run bench -- address`: which address phrase is missed least by strangers' voices,
 * heard least where nobody said it, and farthest from what is said in a theatre; and what
 * is heard where none is needed, as with a talk key. All listeners as the product decides,
 * without examples for any candidate: a team's own choice has none. Held-out voices and the
 * half of the human talk that tuned nothing. Needs flite, espeak-ng, festival, sox and, for
 * human talk, opusdec and the project's measuring data.
 *
 * `TALK_MS` hears more or less talk, `ONLY=a,b` measures some candidates ("-" for none),
 * `EVERY=2` says every second command, `LEVELS=clean,10` leaves a level out.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { loadPronunciations } from '../../src/cli/check-procedure';
import { loadListener } from '../../src/cli/load-listeners';
import { ROOT } from '../../src/cli/run-program';
import { FIGURE_VOICES, TUNING_VOICES } from '../../src/cli/spoken-voices';
import type { Vocabulary } from '../../src/domain';
import { readWav, REHEARSAL_CLIPS } from '../../src/voice';
import type { Listener } from '../../src/voice';
import { hiss, join } from '../voice/real-listener';
import { nearestInTalk } from './address-sounds';
import { cutTalk } from './cut-talk';
import { say } from './held-out/memory';
import { hasHumanTalk, loadHumanTalk } from './human-talk';
import { makeNoise, mix } from './noise-mix';
import { THEATRE_TALK } from './theatre-talk';

/** Nothing said first: what a talk key leaves to be heard. */
const NONE = '-';
const CANDIDATES = [
  'theatre wall', 'hello wall', 'attention wall', 'listen wall', 'dear wall', 'wall please',
  'team wall', 'cue wall', 'notice board', 'theatre record', NONE,
] as const; // prettier-ignore
const SIZES = ['depth two four', 'depth two eight', 'wedge one six', 'post two four'];
/** All are legal; which part of them is spoken says EVERY. */
const COMMANDS = [
  ...SIZES, 'step done', 'what is next', 'confirm', 'wrong cancel that', 'pin out', 'say again',
  'mute voice', 'insert baseplate',
]; // prettier-ignore
const SPOKEN = COMMANDS.filter((_, index) => index % Number(process.env['EVERY'] ?? 1) === 0);
/** A quiet room, or speech over mixed scripted noise, in dB. */
const LEVELS = process.env['LEVELS']?.split(',') ?? ['clean', '10', '5'];
/** How much human talk is heard, in milliseconds? */
const TALK_MS = Number(process.env['TALK_MS'] ?? 1_800_000);

type Outcome = 'right' | 'wrong' | 'missed';

export async function benchAddress(): Promise<object> {
  const only = process.env['ONLY']?.split(',');
  const listener = await loadListener('both', []);
  const pronounce = await loadPronunciations();
  const talkers = REHEARSAL_CLIPS.slice(0, 12).map(({ file }) =>
    readWav(readFileSync(path.join(ROOT, 'src/voice/rehearsal-clips', file))),
  );
  const theatre = THEATRE_TALK.flatMap((text) => cutTalk(say(TUNING_VOICES[0], text)));
  const human = hasHumanTalk() ? loadHumanTalk(TALK_MS, 'figures') : [];
  const talk = human.flatMap(cutTalk);
  const rows: object[] = [];
  for (const address of CANDIDATES.filter((one) => !only || only.includes(one))) {
    const addressPhrase = address === NONE ? '' : address;
    await listener.setVocabulary(vocabularyOf(addressPhrase));
    rows.push({
      address,
      said: FIGURE_VOICES.length * SPOKEN.length,
      levels: await sayAll(listener, addressPhrase, talkers),
      activatedBy: {
        human: await listActivations(listener, talk),
        theatre: await listActivations(listener, theatre),
      },
      nearest: address === NONE ? null : nearestInTalk(address, pronounce),
    });
    console.log(JSON.stringify(rows.at(-1)));
  }
  await listener.close();
  const talkMin = human.reduce((sum, { length }) => sum + length, 0) / 960_000;
  return { talkMin, stretches: talk.length, theatreSentences: theatre.length, rows };
}

function vocabularyOf(addressPhrase: string): Vocabulary {
  return {
    addressPhrase,
    phrases: COMMANDS.map((words) => ({
      words,
      order: SIZES.includes(words)
        ? { type: 'capture.offer', capture: words as never, value: words }
        : { type: 'question.ask', question: words as never },
    })),
  };
}

/** How the commands of all voices fared, by level of noise. */
async function sayAll(
  listener: Listener,
  addressPhrase: string,
  talkers: readonly Float32Array[],
): Promise<Readonly<Record<string, Readonly<Record<Outcome, number>>>>> {
  const levels: Record<string, Record<Outcome, number>> = {};
  for (const [index, voice] of FIGURE_VOICES.entries())
    for (const words of SPOKEN) {
      const sound = join(hiss(250), say(voice, `${addressPhrase} ${words}`.trim()), hiss(110));
      for (const level of LEVELS) {
        const noise = (): Float32Array => makeNoise('mixed', sound.length, index, talkers);
        const isQuiet = level === 'clean';
        const heard = await listener.recognise(
          isQuiet ? sound : mix(sound, noise(), Number(level)),
        );
        const counts = (levels[level] ??= { right: 0, wrong: 0, missed: 0 });
        counts[heard.words === null ? 'missed' : heard.words === words ? 'right' : 'wrong'] += 1;
      }
    }
  return levels;
}

/** What was taken from talk that was meant for nobody. */
async function listActivations(
  listener: Listener,
  pieces: readonly Float32Array[],
): Promise<readonly string[]> {
  const taken: string[] = [];
  for (const pcm of pieces) {
    const { words } = await listener.recognise(pcm);
    if (words !== null) taken.push(words);
  }
  return taken;
}
