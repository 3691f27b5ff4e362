/**
 * Connected talk in the held-out synthetic voices: short passages of general English, in
 * turn by voice and room. The texts are those of Debian's packages fortunes and
 * fortunes-min; they are spoken here and kept nowhere.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { FIGURE_VOICES, synthesise } from '../../../src/cli/spoken-voices';
import { CLEAN, listNoises } from './conditions';
import type { Condition } from './conditions';
import { shuffle } from './moments';
import { isInShard } from './shard';
import type { Shard } from './shard';

const FOLDER = '/usr/share/games/fortunes';
/** Which passages are talk? Shorter ones are jokes in a line, longer ones letters; in words. */
const [LEAST_WORDS, MOST_WORDS] = [12, 90];
const SEED = 47;

/** A stretch of talk, who says what, and the room it is heard in. */
export interface Talk {
  readonly sound: Float32Array;
  readonly text: string;
  readonly voice: string;
  readonly room: Condition;
  /** Of the room's noise: the same however the talk is cut into parts. */
  readonly seed: number;
}

/** This part of all passages, one after another, and all once more by other voices, spoken when asked for; none where the texts are missing. */
export function* speakTalk(shard: Shard): Generator<Talk> {
  const rooms = listNoises().filter(({ snrDb }) => snrDb !== null && snrDb >= 10);
  const passages = listPassages();
  for (const [index, text] of [...passages, ...passages].entries()) {
    if (!isInShard(shard, index)) continue;
    const round = Math.floor(index / passages.length);
    const place = index - round * passages.length;
    const voice = FIGURE_VOICES[(place + round) % FIGURE_VOICES.length] ?? FIGURE_VOICES[0];
    // Each voice has the quiet room and a noisy one in turn; noises pass by all voices.
    const turn = Math.floor(index / FIGURE_VOICES.length);
    const noisy = rooms[Math.floor(turn / 2 + index) % rooms.length] ?? CLEAN;
    const sound = synthesise(voice, text);
    yield { sound, text, voice, room: turn % 2 === 0 ? CLEAN : noisy, seed: index };
  }
}

/** Passages of plain English, in an order that is the same every time. */
function listPassages(): readonly string[] {
  if (!existsSync(FOLDER)) {
    console.log('skipped: Debian packages fortunes and fortunes-min are not installed');
    return [];
  }
  const files = readdirSync(FOLDER)
    .filter((name) => !/\.(dat|u8)$|art$/.test(name))
    .sort();
  const passages = files.flatMap((name) =>
    readFileSync(path.join(FOLDER, name), 'utf8').split(/^%\s*$/m),
  );
  return shuffle([...new Set(passages.flatMap(toSpeakable))], SEED);
}

/** Without attributions and drawings; nothing of what is not mostly words. */
function toSpeakable(passage: string): readonly string[] {
  const words = passage
    .replace(/^\s*--[\s\S]*$/m, '')
    .split(/\s+/)
    .filter((word) => word !== '');
  const plain = words.filter((word) => /^["'(]?[A-Za-z][A-Za-z'’-]*[.,;:!?)"']*$/.test(word));
  const isTalk = words.length >= LEAST_WORDS && words.length <= MOST_WORDS;
  return isTalk && plain.length >= 0.9 * words.length ? [plain.join(' ')] : [];
}
