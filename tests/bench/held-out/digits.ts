/**
 * Human digits of the Free Spoken Digit Dataset (its README in the measuring data names
 * source and licence): six speakers, several strong accents, 8 kHz telephone band. Each
 * speaker's recordings 0, 1 and 2 are the card, 10 to 49 the test. No address phrase; all
 * ten digits are legal, each as a value.
 */
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { LISTENER_NAMES } from '../../../src/cli/load-listeners';
import { readRecording } from '../../../src/cli/read-recording';
import type { SpokenOrder } from '../../../src/domain';
import { soundToPcm } from '../../../src/voice';
import { CLEAN, findData, listConditions, place } from './conditions';
import { noteOpinions } from './opinions-log';
import type { Panel } from './panel';
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

/** A quarter of the recordings is tested, in the quiet room and in a scripted noise at 10 dB. */
export async function hearDigits(
  panel: Panel,
  quarter: DigitQuarter,
  talk: readonly Float32Array[],
  tell: (done: number) => void,
): Promise<object> {
  const folder = findData('fsdd/recordings');
  if (!folder) return { skipped: 'the measuring data "fsdd" is not here' };
  const speakers = [...new Set(readdirSync(folder).map((name) => name.split('_')[1] ?? ''))];
  const rooms = listConditions().filter(
    ({ noise, snrDb }) => snrDb === 10 && !noise.startsWith('real'),
  );
  const recording = (digit: number, speaker: string, take: number): Float32Array =>
    readRecording(path.join(folder, `${digit}_${speaker}_${take}.wav`));
  await panel.setVocabulary({ addressPhrase: '', phrases: LEGAL });
  const tallies = new Tallies();
  let done = 0;
  for (const [turn, speaker] of speakers.filter(Boolean).sort().entries()) {
    const takes = DIGITS.flatMap((text, digit) =>
      CARD_TAKES.map((take) => ({ text, pcm: soundToPcm(recording(digit, speaker, take)) })),
    );
    await panel.setCard({ label: speaker, takes });
    for (const [digit, said] of DIGITS.entries())
      for (
        let take = FIRST_TEST + ((digit + QUARTERS[quarter]) % 4);
        take <= LAST_TEST;
        take += 4
      ) {
        const sound = recording(digit, speaker, take);
        for (const room of [CLEAN, rooms[(done >> 1) % rooms.length] ?? CLEAN]) {
          const verdicts = await panel.hear(place(sound, room, 300 + done, talk));
          noteOpinions({ said, voice: speaker, room: room.name, card: true }, verdicts.last);
          const level = room === CLEAN ? 'clean' : '10 dB';
          const likeliest = verdicts.last?.ranked[0]?.words ?? null;
          for (const listener of LISTENER_NAMES) {
            const outcome = judge(said, LEGAL, verdicts[listener].heard);
            for (const group of [level, `${level}, speaker ${turn + 1}`])
              tallies.of(`${group} | ${listener}`).add(outcome, true, false);
          }
          const nearest = { words: likeliest, score: 0, listener: '', speechMs: 0, decisionMs: 0 };
          tallies.of(`${level} | nearest`).add(judge(said, LEGAL, [nearest]), true, false);
          done += 1;
        }
      }
    tell(done);
  }
  return { recordings: done / 2, rows: tallies.rows };
}
