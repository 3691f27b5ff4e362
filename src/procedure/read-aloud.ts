/**
 * What somebody reads for a voice card: few enough texts to read them twice in some
 * minutes, chosen so that most of what is said in a case is one of them or made of them.
 * "Depth two four" is made of "depth", "two" and "four".
 */
import { asId } from '../domain';
import type { Order, SpokenOrder } from '../domain';
import type { CompiledProcedure } from './compile';
import type { Capture } from './expanded';
import { listLegalValues } from './values-of';
import { COMMON, CONFIRM_WORDS, CORRECT_WORDS, wordsForValue, WITHDRAW_WORDS } from './vocabulary';

/** A text to read. A part is read as it stands; anything else after what one says first. */
export interface ReadAloud {
  readonly words: string;
  readonly isPart: boolean;
}

export interface CardPhrases {
  readonly read: readonly ReadAloud[];
  /** Whole phrases that are covered by it: what may be said in the test. */
  readonly tries: readonly SpokenOrder[];
}

/** The digits, as sizes are said. */
const DIGITS = 'zero one two three four five six seven eight nine'.split(' ');
/** Commands of every procedure that are said often; the others are heard without a card. */
const OFTEN = ['what is next', 'say again', 'undo last order'];
/** A choice of more values than this is too long to read out. */
const MOST_OPTIONS = 3;
/** How many sizes of each kind are tried in the test? The smallest, a middle one, the largest. */
const TRIED_SIZES = 3;

/** Lists them, commands first, digits last. */
export function listCardPhrases(compiled: CompiledProcedure): CardPhrases {
  const captures = [
    ...new Map([...compiled.captures.values()].map((one) => [one.say, one])).values(),
  ];
  const numbers = captures.filter(({ kind }) => kind === 'number');
  const choices = captures
    .filter((one) => one.kind === 'choice' && listLegalValues(one).length <= MOST_OPTIONS)
    .flatMap(offersOf);
  const whole = [...commandsOf(compiled), ...choices];
  const heads = [...numbers.map(({ say }) => say), CORRECT_WORDS];
  return {
    read: [
      ...[...whole.map(({ words }) => words), ...heads].map((words) => ({ words, isPart: false })),
      ...partsOf(numbers).map((words) => ({ words, isPart: true })),
    ],
    tries: [...whole, ...numbers.flatMap((one) => spread(offersOf(one)))],
  };
}

function commandsOf({ procedure }: CompiledProcedure): readonly SpokenOrder[] {
  const tracks = procedure.tracks.map(({ id, doneSay }): SpokenOrder => ({
    words: doneSay,
    order: { type: 'step.finish', track: asId(id) },
  }));
  const answers = [
    { words: CONFIRM_WORDS, order: { type: 'capture.confirm' } satisfies Order },
    { words: WITHDRAW_WORDS, order: { type: 'capture.withdraw' } satisfies Order },
  ];
  return [...tracks, ...answers, ...COMMON.filter(({ words }) => OFTEN.includes(words))];
}

/** The digits, and what else sizes are said with digit by digit: "point". */
function partsOf(numbers: readonly Capture[]): readonly string[] {
  const said = numbers.flatMap((one) =>
    listLegalValues(one).flatMap(({ words }) => words[0]?.split(' ') ?? []),
  );
  return [...new Set([...DIGITS, ...said])];
}

/** Each value once, in the words that are safest: digit by digit. */
function offersOf(capture: Capture): readonly SpokenOrder[] {
  return listLegalValues(capture).flatMap(({ value }) =>
    wordsForValue(capture, value)
      .slice(0, 1)
      .map((words): SpokenOrder => ({
        words,
        order: { type: 'capture.offer', capture: capture.id, value },
      })),
  );
}

function spread<T>(all: readonly T[]): readonly T[] {
  if (all.length <= TRIED_SIZES) return all;
  const last = all.length - 1;
  return [0, last >> 1, last].flatMap((at) => all.slice(at, at + 1));
}
