/**
 * Human digits of the Free Spoken Digit Dataset (its README in the measuring data names
 * source and licence): six speakers, several strong accents, 8 kHz telephone band. Each
 * speaker's recordings 0, 1 and 2 are the card, 10 to 49 the test. No address phrase; all
 * ten digits are legal, each as a value. Heard with the speaker's own card in use, or with
 * somebody else's.
 */
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { readRecording } from '../../../src/cli/read-recording';
import type { SpokenOrder } from '../../../src/domain';
import { soundToPcm } from '../../../src/voice';
import type { CardVoice } from '../../../src/voice';
import { CLEAN, findData, listScripted, place } from './conditions';
import type { Condition } from './conditions';
import { noteOpinions } from './opinions-log';
import type { Panel, Verdicts } from './panel';
import { isInShard } from './shard';
import type { Shard } from './shard';
import { judge, Tallies } from './tally';

export const DIGITS = [
  'zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine',
] as const; // prettier-ignore
export const LEGAL: readonly SpokenOrder[] = DIGITS.map((words) => ({
  words,
  order: { type: 'capture.offer', capture: 'said' as never, value: words },
}));
export const CARD_TAKES = [0, 1, 2] as const;
const FIRST_TEST = 10;
const LAST_TEST = 49;
/**
 * How cards are compared was chosen on every fourth recording, from the digit's own number
 * on; those give no figures. Figures are from the next quarter; the one after it was kept
 * for a last check, and the fourth for later.
 */
const QUARTERS = { tuning: 0, figures: 1, check: 2 } as const;
export type DigitQuarter = keyof typeof QUARTERS;

/** A digit that somebody says in a room, and what the room's noise is made from. */
interface Saying {
  readonly digit: number;
  readonly take: number;
  readonly room: Condition;
  readonly seed: number;
}

export interface DigitPlan {
  readonly quarter: DigitQuarter;
  /** Whose card is in use: the speaker's own, or that of the next speaker in the list. */
  readonly card: 'own' | 'another';
  /** Cut by speakers. */
  readonly shard: Shard;
}

/** A quarter of the recordings is tested, in the quiet room and in a scripted noise at 10 dB. */
export async function hearDigits(
  panel: Panel,
  { quarter, card, shard }: DigitPlan,
  talk: readonly Float32Array[],
  tell: (done: number) => void,
): Promise<object> {
  const folder = findData('fsdd/recordings');
  if (!folder) return { skipped: 'the measuring data "fsdd" is not here' };
  const recordings: Recordings = (digit, speaker, take) =>
    readRecording(path.join(folder, `${digit}_${speaker}_${take}.wav`));
  const names = new Set(readdirSync(folder).map((name) => name.split('_')[1] ?? ''));
  const speakers = [...names].filter(Boolean).sort();
  await panel.setVocabulary({ addressPhrase: '', phrases: LEGAL });
  const tallies = new Tallies();
  let done = 0;
  for (const [turn, speaker] of speakers.entries()) {
    if (!isInShard(shard, turn)) continue;
    const owner = speakers[(turn + (card === 'own' ? 0 : 1)) % speakers.length] ?? speaker;
    await panel.setCard({ label: owner, takes: takesOf(owner, recordings) });
    for (const saying of listSayings(quarter, turn)) {
      const { digit, take, room, seed } = saying;
      const sound = recordings(digit, speaker, take);
      const verdicts = await panel.hear(place(sound, room, seed, talk));
      noteOpinions({ said: DIGITS[digit], voice: speaker, room: room.name, card }, verdicts.last);
      count(tallies, saying, turn, verdicts);
      done += 1;
    }
    tell(done);
  }
  return { recordings: done / 2, rows: tallies.rows };
}

type Recordings = (digit: number, speaker: string, take: number) => Float32Array;

function takesOf(speaker: string, recordings: Recordings): CardVoice['takes'] {
  return DIGITS.flatMap((text, digit) =>
    CARD_TAKES.map((take) => ({ text, pcm: soundToPcm(recordings(digit, speaker, take)) })),
  );
}

/** What one speaker says; noises go on in turn from one speaker to the next. */
function listSayings(quarter: DigitQuarter, turn: number): readonly Saying[] {
  const rooms = listScripted(10);
  const said = DIGITS.flatMap((_, digit) => {
    const first = FIRST_TEST + ((digit + QUARTERS[quarter]) % 4);
    const takes: { digit: number; take: number }[] = [];
    for (let take = first; take <= LAST_TEST; take += 4) takes.push({ digit, take });
    return takes;
  });
  return said.flatMap((one, index) => {
    const at = turn * said.length + index;
    return [CLEAN, rooms[at % rooms.length] ?? CLEAN].map((room, noisy) => ({
      ...one,
      room,
      seed: 300 + 2 * at + noisy,
    }));
  });
}

/** Nobody says "wrong cancel that" in these recordings: read-backs are not simulated. */
function count(tallies: Tallies, { digit, room }: Saying, turn: number, verdicts: Verdicts): void {
  const said = DIGITS[digit] ?? '';
  const level = room === CLEAN ? 'clean' : '10 dB';
  for (const [listener, heard] of verdicts.heardBy) {
    const outcome = judge(said, LEGAL, heard);
    for (const group of [level, `${level}, speaker ${turn + 1}`])
      tallies.of(`${group} | ${listener}`).add(outcome, true, null);
  }
  const words = verdicts.last?.ranked[0]?.words ?? null;
  const nearest = { words, score: 0, listener: '', speechMs: 0, decisionMs: 0 };
  tallies.of(`${level} | nearest`).add(judge(said, LEGAL, [nearest]), true, null);
}
