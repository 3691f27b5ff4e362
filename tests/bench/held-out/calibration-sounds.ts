/**
 * What the score is fitted on, and what it is measured on, as sounds with everything that
 * may be said then. Neither trained the network nor set a limit, and they share no voice
 * and no person:
 *
 * | | fit | figures |
 * |---|---|---|
 * | commands of all procedures, in every room | CALIBRATION_VOICES | FIGURE_VOICES |
 * | human digits (digits.ts), without and with a card | three speakers, recordings 3 to 9 | the three others, half of the quarter for figures |
 *
 * The first of every four of a kind is what may not be said then: whatever is heard there is wrong.
 */
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { CALIBRATION_VOICES, FIGURE_VOICES } from '../../../src/cli/spoken-voices';
import { readRecording } from '../../../src/cli/read-recording';
import type { SpokenOrder, Vocabulary } from '../../../src/domain';
import { soundToPcm } from '../../../src/voice';
import type { CardVoice } from '../../../src/voice';

import { CLEAN, findData, listNoises, place } from './conditions';
import type { Condition } from './conditions';
import { CARD_TAKES, DIGITS, LEGAL } from './digits';
import { vocabularyOf } from './moments';
import { planTrials, soundOf } from './trials';

export type Split = 'fit' | 'figures';
export type Group = 'commands' | 'digits' | 'digits with a card';

export interface Spoken {
  readonly group: Group;
  readonly said: string;
  readonly voice: string;
  readonly room: string;
  readonly vocabulary: Vocabulary;
  /** The card in use; null for none. */
  readonly card: CardVoice | null;
  sound(): Float32Array;
}

const COMMANDS = { fit: { clean: 60, each: 3 }, figures: { clean: 60, each: 2 } } as const;
/** One in so many says what is not legal. */
const ILLEGAL_EACH = 4;

/** Which recordings of a digit? The fit takes those that nothing else uses, the figures every second one of their quarter (digits.ts). */
const TAKES: Readonly<Record<Split, (digit: number) => readonly number[]>> = {
  fit: () => [3, 4, 5, 6, 7, 8, 9],
  figures: (digit) => Array.from({ length: 5 }, (_, index) => 10 + ((digit + 1) % 4) + 8 * index),
};

export function* speakForCalibration(
  split: Split,
  babble: readonly Float32Array[],
): Generator<Spoken> {
  yield* speakCommands(split, babble);
  for (const hasCard of [false, true]) yield* speakDigits(split, hasCard, babble);
}

function* speakCommands(split: Split, babble: readonly Float32Array[]): Generator<Spoken> {
  const voices = split === 'fit' ? CALIBRATION_VOICES : FIGURE_VOICES;
  for (const [index, trial] of planTrials(COMMANDS[split], voices).entries()) {
    const { words, legal } = trial.moment;
    yield {
      group: 'commands',
      said: words,
      voice: trial.voice,
      room: trial.condition.name,
      vocabulary: vocabularyOf(index % ILLEGAL_EACH === 0 ? without(words, legal) : legal),
      card: null,
      sound: () => soundOf(trial, babble),
    };
  }
}

function* speakDigits(
  split: Split,
  hasCard: boolean,
  babble: readonly Float32Array[],
): Generator<Spoken> {
  const folder = findData('fsdd/recordings');
  if (!folder) return;
  const speakers = [...new Set(readdirSync(folder).map((name) => name.split('_')[1] ?? ''))]
    .filter(Boolean)
    .sort();
  const recording = (digit: number, speaker: string, take: number): Float32Array =>
    readRecording(path.join(folder, `${digit}_${speaker}_${take}.wav`));
  let turn = split === 'fit' ? 0 : 10_000;
  for (const speaker of split === 'fit' ? speakers.slice(0, 3) : speakers.slice(3)) {
    const takes = DIGITS.flatMap((text, digit) =>
      CARD_TAKES.map((take) => ({ text, pcm: soundToPcm(recording(digit, speaker, take)) })),
    );
    for (const [digit, said] of DIGITS.entries())
      for (const [index, take] of TAKES[split](digit).entries()) {
        const room = roomOf(index, turn);
        const seed = (turn += 1);
        yield {
          group: hasCard ? 'digits with a card' : 'digits',
          said,
          voice: speaker,
          room: room.name,
          vocabulary: {
            addressPhrase: '',
            phrases: index % ILLEGAL_EACH === 0 ? without(said, LEGAL) : LEGAL,
          },
          card: hasCard ? { label: speaker, takes } : null,
          sound: () => place(recording(digit, speaker, take), room, seed, babble),
        };
      }
  }
}

/** The quiet room and a scripted noise at 10 or 5 dB, by turns. */
function roomOf(index: number, turn: number): Condition {
  const rooms = listNoises().filter(
    ({ noise, snrDb }) => (snrDb === 10 || snrDb === 5) && !noise.startsWith('real'),
  );
  // Shifted by one each time round, so that what may not be said then comes in both.
  return (index + Math.floor(index / ILLEGAL_EACH)) % 2 === 0
    ? CLEAN
    : (rooms[turn % rooms.length] ?? CLEAN);
}

/** Everything legal but what means this. */
function without(words: string, legal: readonly SpokenOrder[]): readonly SpokenOrder[] {
  const order = JSON.stringify(legal.find((spoken) => spoken.words === words)?.order);
  return legal.filter((spoken) => JSON.stringify(spoken.order) !== order);
}
