/**
 * Who is in the noisy theatre: two people who speak to the wall and others who talk among
 * themselves, all in voices that nothing was trained on or tuned with (FIGURE_VOICES).
 * Synthetic (Debian packages flite and espeak-ng, sox); nobody says the same twice in the same way.
 */
import { existsSync } from 'node:fs';
// Past the folders' doors: they also open on JSON files that a browser test's runner can't import.
import { loudPower, makeNoise, toPower } from '../../src/cli/noise-mix';
import { FIGURE_VOICES, synthesise } from '../../src/cli/spoken-voices';
import type { Manner } from '../../src/cli/spoken-voices';
import { SAMPLE_RATE_HZ } from '../../src/voice/hearing/listener';
import type { Speaker } from '../../src/session/rehearsal/script';
import { THEATRE_TALK } from '../bench/theatre-talk';

export type FigureVoice = (typeof FIGURE_VOICES)[number];
/** In which voice each of the two speaks. */
export type People = Readonly<Record<Speaker, FigureVoice>>;

/** Two of the intelligible ones (docs/voice.md: clean by voice). */
export const TWO_PEOPLE: People = {
  surgeon: 'espeak en-us+m6 165',
  scrub: 'espeak en-gb-x-gbcwmd+f5 160',
};
/** As in src/voice: what is said first. */
const ADDRESS_PHRASE = 'theatre wall';
/** The power of the loud parts of speech: -20 dB of full scale. */
const SPEECH_POWER = 0.01;
/** How a line is said, one after another. */
const MANNERS: readonly Manner[] = [
  { tempo: 1, cents: 0 },
  { tempo: 0.95, cents: -30 },
  { tempo: 1.05, cents: 20 },
  { tempo: 0.92, cents: 40 },
  { tempo: 1.08, cents: -20 },
];
/** How long the noise goes on before it begins anew, in seconds; hammering, beeps and drill don't share a period. */
const NOISE_S = 20;
const NOISE_SEED = 5;
/** How much each of the others has to say. */
const SENTENCES_EACH = 2;

/** Whether these people can speak here. */
export const canSpeak = ['flite', 'espeak-ng', 'sox'].every((name) =>
  existsSync(`/usr/bin/${name}`),
);

/** A line as these people say it the so-and-so-many-th time, at the level of speech. */
export function speakLine(
  people: People,
  {
    who,
    words,
    isTalk,
  }: { readonly who: Speaker; readonly words: string; readonly isTalk: boolean },
  turn: number,
): Float32Array {
  const text = isTalk ? words : `${ADDRESS_PHRASE} ${words}`;
  const sound = synthesise(people[who], text, MANNERS[turn % MANNERS.length]);
  const gain = Math.sqrt(SPEECH_POWER / loudPower(sound));
  return sound.map((sample) => sample * gain);
}

/** Mixed noise that goes on for so long, so many dB below the speech; its babble is others, all at once, who do not mean the wall. */
export function makeTheatreNoise(people: People, seconds: number, snrDb: number): Float32Array {
  const talkers = FIGURE_VOICES.filter(
    // Festival is not among the packages that the tests install.
    (voice) => !Object.values(people).includes(voice) && !voice.startsWith('festival '),
  );
  const talk = talkers.map((voice, index) =>
    synthesise(
      voice,
      THEATRE_TALK.slice(index * SENTENCES_EACH, (index + 1) * SENTENCES_EACH).join('. '),
    ),
  );
  const once = toPower(
    makeNoise('mixed', NOISE_S * SAMPLE_RATE_HZ, NOISE_SEED, talk),
    SPEECH_POWER / 10 ** (snrDb / 10),
  );
  return Float32Array.from(
    { length: seconds * SAMPLE_RATE_HZ },
    (_, index) => once[index % once.length] ?? 0,
  );
}
